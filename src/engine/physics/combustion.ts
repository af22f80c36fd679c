/** Burning out wax: C(n)H(m) + (n + m/4) O2. Air holds 0.2314 oxygen by mass (CRC Handbook, from memory). */
const CARBON = 12.011 // g/mol
const HYDROGEN = 1.008
const OXYGEN_MOLECULE = 2 * 15.999
const OXYGEN_IN_AIR = 0.2314

/** Oxygen [kg per kg] to burn a hydrocarbon wholly; paraffin is about C31 H64. */
export const oxygenToBurn = (carbons: number, hydrogens: number): number =>
  ((carbons + hydrogens / 4) * OXYGEN_MOLECULE) / (carbons * CARBON + hydrogens * HYDROGEN)

/** Air [kg per kg] to burn a hydrocarbon wholly. A kiln needs several times this, for mixing is poor. */
export const airToBurn = (carbons: number, hydrogens: number): number =>
  oxygenToBurn(carbons, hydrogens) / OXYGEN_IN_AIR
