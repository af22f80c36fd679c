import type { Hardware } from '../../documents/index.ts'
import type { Loop } from '../drawing.ts'
import { ellipse, placed, rectangle } from '../relief/loops.ts'
import { hookMouth, loopSizes, pocketSizes, slotSizes } from './sizes.ts'

const SIDES = 48

const round = (diameter_mm: number, along_mm: number): Loop =>
  ellipse([along_mm, 0], diameter_mm, diameter_mm, SIDES)

const shapesOf = (hardware: Hardware): Loop[] => {
  switch (hardware.kind) {
    case 'loop': {
      const { bar_mm } = hardware
      const long = loopSizes(hardware).inside + 2 * bar_mm
      const leg = (long - bar_mm) / 2
      return [rectangle(-long / 2, -bar_mm / 2, long, bar_mm), round(bar_mm, -leg), round(bar_mm, leg)]
    }
    case 'hook': {
      const { wire_mm, reach_mm } = hardware
      return [rectangle(-wire_mm / 2, -wire_mm / 2, reach_mm + wire_mm / 2, wire_mm), round(wire_mm, 0)]
    }
    case 'post': {
      const { diameter_mm, head_mm } = hardware
      return [round(diameter_mm, 0), ...(head_mm === undefined ? [] : [round(head_mm, 0)])]
    }
    case 'keeper-slot': {
      const { slot, opening } = slotSizes(hardware)
      return [rectangle(-slot / 2, -opening / 2, slot, opening)]
    }
    case 'tip-pocket': {
      const { depth_mm, wall_mm } = hardware
      const half = pocketSizes(hardware).across / 2
      return [
        rectangle(0, -half - wall_mm, depth_mm + wall_mm, 2 * (half + wall_mm)),
        rectangle(0, -half, depth_mm, 2 * half),
      ]
    }
  }
}

/** Where hardware stands, seen from the front; in the drawing's millimetres, before any bending. */
export const footprintOf = (hardware: Hardware): { loops: Loop[]; hidden: boolean } => ({
  loops: shapesOf(hardware).map((loop) => placed(loop, hardware.at_mm, hardware.turned_deg)),
  hidden: hardware.kind !== 'keeper-slot',
})

/**
 * A piece of hardware by the sizes it is made to. A strap keeps its own size; the rest is written by `size`,
 * which may make it over by the shrink.
 */
export const sayHardware = (
  hardware: Hardware,
  size: (mm: number) => string,
  own: (mm: number) => string,
): string => {
  const strap =
    'strap_width_mm' in hardware
      ? ` for a strap ${own(hardware.strap_width_mm)} × ${own(hardware.strap_thickness_mm)}`
      : ` for a strap ${own(hardware.strap_thickness_mm)} thick`
  const turned = hardware.turned_deg === 0 ? '' : `, turned ${Number(hardware.turned_deg.toFixed(1))}°`
  switch (hardware.kind) {
    case 'loop': {
      const { inside, clear } = loopSizes(hardware)
      return `Loop${strap}: bar ${size(hardware.bar_mm)}, ${size(inside)} clear inside, stands ${size(clear)} off the back${turned}`
    }
    case 'hook':
      return `Hook${strap}: wire ${size(hardware.wire_mm)}, reaches ${size(hardware.reach_mm)}, mouth ${size(hookMouth(hardware))}${turned}`
    case 'post': {
      const head = hardware.head_mm === undefined ? '' : `, head ${size(hardware.head_mm)}`
      return `Post${strap}: ${size(hardware.diameter_mm)} across, ${size(hardware.length_mm)} long${head}`
    }
    case 'keeper-slot': {
      const { slot, opening } = slotSizes(hardware)
      return `Slot${strap}, cut through: ${size(slot)} × ${size(opening)}${turned}`
    }
    case 'tip-pocket': {
      const { across, clear } = pocketSizes(hardware)
      return `Pocket${strap}: ${size(across)} × ${size(clear)} inside, ${size(hardware.depth_mm)} deep, wall ${size(hardware.wall_mm)}${turned}`
    }
  }
}
