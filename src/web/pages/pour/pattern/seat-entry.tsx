import type { Cabochon, RegionHeight } from '../../../../engine/documents/heights.ts'
import type { Region } from '../../../../engine/pattern/drawing.ts'
import { LengthEntry } from './length-entry.tsx'

type Seat = Extract<RegionHeight, { role: 'seat' }>

const GAP_MM = 0.1

/** The largest stone in half millimetres that the drawn well takes, lying along its longer side. */
const firstStone = ({ outer }: Region): Cabochon => {
  const span = (odd: number): number => {
    const values = [...outer].filter((_, i) => i % 2 === odd)
    return Math.max(...values) - Math.min(...values)
  }
  const [across, up] = [span(0), span(1)]
  const size = (mm: number): number =>
    Math.min(120, Math.max(1, Math.floor(2 * (mm - 2 * GAP_MM) + 1e-6) / 2))
  return {
    shape: 'oval',
    length_mm: size(Math.max(across, up)),
    width_mm: size(Math.min(across, up)),
    gap_mm: GAP_MM,
    bearer_mm: Math.min(1, Math.min(across, up) / 8),
    well_mm: 0,
    turned_deg: up > across ? 90 : 0,
  }
}

/** The stone that will lie in a seat, and what is cut for it. */
export const SeatEntry = ({
  title,
  seat,
  region,
  onChange,
}: {
  title: string
  seat: Seat
  /** the first of those that are cut so */
  region: Region | undefined
  onChange: (seat: Seat, group?: string) => void
}) => {
  const { stone } = seat
  if (stone === undefined)
    return (
      <button
        type="button"
        className="quiet small"
        disabled={region === undefined}
        onClick={() => region && onChange({ ...seat, stone: firstStone(region) })}
      >
        cut it for a cabochon by its size<span className="vh">: {title}</span>
      </button>
    )
  const set = (next: Partial<Cabochon>, group?: string): void =>
    onChange({ ...seat, stone: { ...stone, ...next } }, group)
  const { wall } = stone
  const entry = (
    name: string,
    key: 'length_mm' | 'width_mm' | 'gap_mm' | 'bearer_mm' | 'well_mm',
    most: number,
  ) => (
    <div className="seat-line">
      <span>{name}</span>
      <LengthEntry
        title={`${title}, ${name.toLowerCase()}`}
        value={stone[key]}
        // stones are sold by the millimetre wherever the bench measures in inches
        metric={key === 'length_mm' || key === 'width_mm'}
        least={key === 'length_mm' || key === 'width_mm' ? 1 : 0}
        most={most}
        onChange={(value, group) => set({ [key]: value }, group)}
      />
    </div>
  )
  return (
    <div className="seat-entry">
      <div className="seat-line">
        <span>Cabochon</span>
        <select
          className="asked"
          aria-label={`${title}, shape of the stone`}
          value={stone.shape}
          onChange={(event) => set({ shape: event.target.value as Cabochon['shape'] })}
        >
          <option value="oval">oval</option>
          <option value="rectangle">rectangle</option>
        </select>
      </div>
      {entry('Long', 'length_mm', 120)}
      {entry('Wide', 'width_mm', 120)}
      {entry('Room all round', 'gap_mm', 2)}
      {entry('Bearer, wide', 'bearer_mm', 20)}
      {entry('Well inside it, deep', 'well_mm', 60)}
      <div className="seat-line">
        <span>Turned</span>
        <LengthEntry
          title={`${title}, turned`}
          value={stone.turned_deg}
          least={-360}
          most={360}
          unit="/x_deg"
          onChange={(turned_deg, group) => set({ turned_deg }, group)}
        />
      </div>
      {wall === undefined ? (
        <button
          type="button"
          className="quiet small"
          onClick={() => set({ wall: { thickness_mm: 1, height_mm: 2 } })}
        >
          raise a wall round it<span className="vh">: {title}</span>
        </button>
      ) : (
        <>
          <div className="seat-line">
            <span>Wall, thick</span>
            <LengthEntry
              title={`${title}, wall, thick`}
              value={wall.thickness_mm}
              least={0.2}
              most={20}
              onChange={(thickness_mm, group) => set({ wall: { ...wall, thickness_mm } }, group)}
            />
          </div>
          <div className="seat-line">
            <span>Wall, above the bearer</span>
            <LengthEntry
              title={`${title}, wall, above the bearer`}
              value={wall.height_mm}
              least={0.2}
              most={60}
              onChange={(height_mm, group) => set({ wall: { ...wall, height_mm } }, group)}
            />
          </div>
          <button type="button" className="quiet small" onClick={() => set({ wall: undefined })}>
            no wall of its own<span className="vh">: {title}</span>
          </button>
        </>
      )}
      <button
        type="button"
        className="quiet small"
        onClick={() => onChange({ role: 'seat', height_mm: seat.height_mm })}
      >
        plain floor, no stone<span className="vh">: {title}</span>
      </button>
    </div>
  )
}
