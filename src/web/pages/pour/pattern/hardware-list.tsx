import type { Hardware, Heights } from '../../../../engine/documents/heights.ts'
import { LengthEntry } from './length-entry.tsx'
import type { ChangeHeights } from './use-heights.ts'

type Kind = Hardware['kind']

const NAMES: Readonly<Record<Kind, string>> = {
  loop: 'Loop and bar',
  hook: 'Hook',
  post: 'Post',
  'keeper-slot': 'Keeper slot',
  'tip-pocket': 'Tip pocket',
}

const strap = { strap_width_mm: 25, strap_thickness_mm: 3 }

const first = (kind: Kind, at_mm: [number, number]): Hardware => {
  const standing = { at_mm, turned_deg: 0 }
  switch (kind) {
    case 'loop':
      return { kind, ...standing, ...strap, bar_mm: 3 }
    case 'hook':
      return { kind, ...standing, ...strap, wire_mm: 2.5, reach_mm: 10 }
    case 'post':
      return { kind, ...standing, diameter_mm: 3, length_mm: 5, head_mm: 5, strap_thickness_mm: 3 }
    case 'keeper-slot':
      return { kind, ...standing, ...strap }
    case 'tip-pocket':
      return { kind, ...standing, ...strap, depth_mm: 15, wall_mm: 1 }
  }
}

interface Measure {
  readonly key: string
  readonly name: string
  readonly least: number
  readonly most: number
  readonly optional?: boolean
}

const STRAP: readonly Measure[] = [
  { key: 'strap_width_mm', name: 'Strap, wide', least: 3, most: 150 },
  { key: 'strap_thickness_mm', name: 'Strap, thick', least: 0.3, most: 15 },
]

const MEASURES: Readonly<Record<Kind, readonly Measure[]>> = {
  loop: [
    ...STRAP,
    { key: 'bar_mm', name: 'Bar, across', least: 0.8, most: 15 },
    { key: 'inside_mm', name: 'Clear along the bar', least: 1, most: 200, optional: true },
    { key: 'clear_mm', name: 'Clear under the bar', least: 0.5, most: 40, optional: true },
  ],
  hook: [
    ...STRAP,
    { key: 'wire_mm', name: 'Wire, across', least: 0.8, most: 12 },
    { key: 'reach_mm', name: 'Reach', least: 2, most: 60 },
    { key: 'clear_mm', name: 'Clear under it', least: 0.5, most: 40, optional: true },
  ],
  post: [
    { key: 'diameter_mm', name: 'Across', least: 0.8, most: 15 },
    { key: 'length_mm', name: 'Long', least: 1, most: 40 },
    { key: 'head_mm', name: 'Button at its end', least: 1, most: 25, optional: true },
    { key: 'strap_thickness_mm', name: 'Strap, thick', least: 0.3, most: 15 },
  ],
  'keeper-slot': [
    ...STRAP,
    { key: 'slot_mm', name: 'Slot, long', least: 1, most: 150, optional: true },
    { key: 'opening_mm', name: 'Slot, open', least: 0.6, most: 20, optional: true },
  ],
  'tip-pocket': [
    ...STRAP,
    { key: 'depth_mm', name: 'Deep', least: 2, most: 80 },
    { key: 'wall_mm', name: 'Wall', least: 0.5, most: 8 },
  ],
}

const One = ({
  piece,
  title,
  set,
  remove,
  placing,
  place,
}: {
  piece: Hardware
  title: string
  set: (next: Hardware, group?: string) => void
  remove: () => void
  placing: boolean
  place: () => void
}) => {
  const values = piece as unknown as Readonly<Record<string, number | undefined>>
  const [x, y] = piece.at_mm
  return (
    <li>
      <details className="fold" open>
        <summary>{title}</summary>
        <div className="seat-entry">
          {MEASURES[piece.kind].map(({ key, name, least, most, optional }) => (
            <div className="seat-line" key={key}>
              <span>{name}</span>
              <LengthEntry
                title={`${title}, ${name.toLowerCase()}`}
                value={values[key]}
                least={least}
                most={most}
                {...(optional === true && { empty: 'from the strap' })}
                onChange={(value, group) => set({ ...piece, [key]: value } as Hardware, group)}
              />
            </div>
          ))}
          <div className="seat-line">
            <span>Stands at, across and up</span>
            <span>
              <LengthEntry
                title={`${title}, stands across`}
                value={x}
                least={-5000}
                most={5000}
                hideLabel
                onChange={(value, group) => set({ ...piece, at_mm: [value, y] }, group)}
              />
              {', '}
              <LengthEntry
                title={`${title}, stands up`}
                value={y}
                least={-5000}
                most={5000}
                onChange={(value, group) => set({ ...piece, at_mm: [x, value] }, group)}
              />
            </span>
          </div>
          <button type="button" className="btn thin" aria-pressed={placing} onClick={place}>
            Place it on the drawing<span className="vh">: {title}</span>
          </button>
          <div className="seat-line">
            <span>Turned</span>
            <LengthEntry
              title={`${title}, turned`}
              value={piece.turned_deg}
              least={-360}
              most={360}
              unit="/x_deg"
              onChange={(turned_deg, group) => set({ ...piece, turned_deg }, group)}
            />
          </div>
          <button type="button" className="quiet small" onClick={remove}>
            take it off<span className="vh">: {title}</span>
          </button>
        </div>
      </details>
    </li>
  )
}

/** Loops, hooks and posts by their measurements; each stands on the back at a place of the drawing. */
export const HardwareList = ({
  heights,
  change,
  middle,
  placing,
  place,
}: {
  heights: Heights
  change: ChangeHeights
  /** where a new one stands until it is moved */
  middle: readonly [number, number]
  /** which one the next press on the drawing stands */
  placing: number | undefined
  place: (which: number) => void
}) => {
  const { hardware } = heights
  const set = (next: Heights['hardware'], group?: string): void =>
    change({ ...heights, hardware: next }, group)
  return (
    <section aria-label="Hardware" className="hardware">
      <h3 className="sub">Hardware on the back</h3>
      <ol>
        {hardware.map((piece, index) => {
          const same = hardware.slice(0, index + 1).filter(({ kind }) => kind === piece.kind).length
          const title = same > 1 ? `${NAMES[piece.kind]} ${same}` : NAMES[piece.kind]
          return (
            <One
              key={title}
              piece={piece}
              title={title}
              set={(next, group) =>
                set(
                  hardware.map((one, at) => (at === index ? next : one)),
                  group,
                )
              }
              placing={placing === index}
              place={() => place(index)}
              remove={() => set(hardware.filter((_, at) => at !== index))}
            />
          )
        })}
      </ol>
      <label className="seat-line">
        <span>Add</span>
        <select
          className="asked"
          value=""
          onChange={(event) => {
            if (event.target.value !== '')
              set([
                ...hardware,
                first(event.target.value as Kind, [
                  Number(middle[0].toFixed(1)),
                  Number(middle[1].toFixed(1)),
                ]),
              ])
          }}
        >
          <option value="">something by its measurements</option>
          {Object.entries(NAMES).map(([kind, name]) => (
            <option key={kind} value={kind}>
              {name.toLowerCase()}
            </option>
          ))}
        </select>
      </label>
    </section>
  )
}
