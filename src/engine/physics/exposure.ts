/**
 * Time-weighted average of airborne dust over a working shift, in the unit given: sum(c t)/shift.
 * @param spells concentration and hours of each; the rest of the shift is taken as clean
 * @param shift hours; 8 for OSHA and ACGIH limits, 10 for the NIOSH one
 */
export const timeWeightedAverage = (
  spells: readonly { readonly concentration: number; readonly hours: number }[],
  shift = 8,
): number => spells.reduce((sum, { concentration, hours }) => sum + concentration * hours, 0) / shift

/** Limits for respirable crystalline silica, kg/m3 (50 and 25 micrograms per cubic metre), with sources. */
export const SILICA_LIMITS = {
  permissible: { value: 50e-9, source: 'OSHA PEL, 8 h, 29 CFR 1910.1053' },
  action: { value: 25e-9, source: 'OSHA action level, 8 h, 29 CFR 1910.1053' },
  recommended: { value: 50e-9, source: 'NIOSH REL, up to 10 h, NIOSH Manual of Analytical Methods' },
  threshold: { value: 25e-9, source: 'ACGIH TLV, 8 h' },
} as const
