import type { Hardware } from '../../documents/index.ts'

export type Kind<K extends Hardware['kind']> = Extract<Hardware, { kind: K }>

/** Room beside a strap so that it slides; common practice 1 to 1.5 mm. */
export const BESIDE_STRAP_MM = 1.2
/** Room over one layer of strap, and over two that pass together; common practice 0.5 to 1 mm. */
export const OVER_STRAP_MM = 0.8
/** A strap is glued into its tip, so it goes in with less room; common practice. */
export const BESIDE_TIP_MM = 0.5
const OVER_TIP_MM = 0.4
/** A hook's mouth lets the strap in and holds it; common practice. */
const OVER_HOOKED_MM = 0.6
const THINNEST_HEAD_MM = 0.8
const HEAD_SHARE = 0.25

/** Measures in mm with what is left out filled in from the strap. */
export const loopSizes = (loop: Kind<'loop'>): { inside: number; clear: number } => ({
  inside: loop.inside_mm ?? loop.strap_width_mm + BESIDE_STRAP_MM,
  clear: loop.clear_mm ?? loop.strap_thickness_mm + OVER_STRAP_MM,
})

export const hookMouth = (hook: Kind<'hook'>): number =>
  hook.clear_mm ?? hook.strap_thickness_mm + OVER_HOOKED_MM

export const slotSizes = (slot: Kind<'keeper-slot'>): { slot: number; opening: number } => ({
  slot: slot.slot_mm ?? slot.strap_width_mm + BESIDE_STRAP_MM,
  opening: slot.opening_mm ?? 2 * slot.strap_thickness_mm + OVER_STRAP_MM,
})

export const pocketSizes = (pocket: Kind<'tip-pocket'>): { across: number; clear: number } => ({
  across: pocket.strap_width_mm + BESIDE_TIP_MM,
  clear: pocket.strap_thickness_mm + OVER_TIP_MM,
})

export const headThickness = (head_mm: number): number => Math.max(THINNEST_HEAD_MM, HEAD_SHARE * head_mm)
