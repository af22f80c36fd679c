/**
 * Modulus: volume over cooling area [m]. In one family of shapes freezing time goes as its square; between
 * families it does not (a rod or ball loses heat outward): see freezing-time.ts.
 */
/** Wide plate cooling on both faces. */
export const plateModulus = (thickness: number): number => thickness / 2

/** Long round rod, ends left out. */
export const rodModulus = (diameter: number): number => diameter / 4

/** Long rectangular bar, ends left out. */
export const barModulus = (width: number, thickness: number): number =>
  (width * thickness) / (2 * (width + thickness))

export const ballModulus = (diameter: number): number => diameter / 6

/** Ring of round section: half the section's radius, whatever the ring's size (Pappus). */
export const ringModulus = (sectionDiameter: number): number => sectionDiameter / 4

/** Rectangular block cooling on all six faces. */
export const blockModulus = (length: number, width: number, thickness: number): number =>
  (length * width * thickness) / (2 * (length * width + width * thickness + thickness * length))

/** Round cylinder cooling on its side and both ends. */
export const cylinderModulus = (diameter: number, height: number): number =>
  (diameter * height) / (4 * height + 2 * diameter)

/**
 * Cone frustum, as a button or tapered sprue.
 * @param ends how many of its ends cool: none, the `wide` one, or both
 */
export function frustumModulus(
  wideRadius: number,
  narrowRadius: number,
  height: number,
  ends: 'none' | 'wide' | 'both',
): number {
  const volume = frustumVolume(wideRadius, narrowRadius, height)
  const side = Math.PI * (wideRadius + narrowRadius) * Math.hypot(height, wideRadius - narrowRadius)
  const wide = ends === 'none' ? 0 : Math.PI * wideRadius ** 2
  const narrow = ends === 'both' ? Math.PI * narrowRadius ** 2 : 0
  return volume / (side + wide + narrow)
}

/** pi h/3 (a² + ab + b²) [m3]. */
export const frustumVolume = (wideRadius: number, narrowRadius: number, height: number): number =>
  ((Math.PI * height) / 3) * (wideRadius ** 2 + wideRadius * narrowRadius + narrowRadius ** 2)
