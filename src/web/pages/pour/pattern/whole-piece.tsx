import type { Heights } from '../../../../engine/documents/heights.ts'
import { FigureRow, FigureRows } from '../../../parts/stat.tsx'
import { LengthEntry } from './length-entry.tsx'
import type { ChangeHeights } from './use-heights.ts'

type Back = Heights['back']

const BACKS = {
  flat: { shape: 'flat' },
  hollow: { shape: 'hollow', wall_mm: 1 },
  curved: { shape: 'curved', radius_mm: 120 },
} as const satisfies Record<Back['shape'], Back>

/** What belongs to the piece as a whole: the wax it is cut from, its back, and how true the hand carves. */
export const WholePiece = ({ heights, change }: { heights: Heights; change: ChangeHeights }) => {
  const { back, hand } = heights
  return (
    <FigureRows label="The whole piece">
      <FigureRow name="Wax to cut from, thick" about="a region without a height of its own keeps it">
        <LengthEntry
          title="Wax to cut from, thick"
          value={heights.blank_mm}
          least={0.3}
          most={200}
          onChange={(blank_mm, group) => change({ ...heights, blank_mm }, group)}
        />
      </FigureRow>
      <FigureRow name="Back">
        <select
          className="asked"
          aria-label="Back"
          value={back.shape}
          onChange={(event) => change({ ...heights, back: BACKS[event.target.value as Back['shape']] })}
        >
          <option value="flat">flat</option>
          <option value="hollow">hollowed to an even wall</option>
          <option value="curved">curved</option>
        </select>
      </FigureRow>
      {back.shape === 'hollow' && (
        <FigureRow name="Wall left when hollowed">
          <LengthEntry
            title="Wall left when hollowed"
            value={back.wall_mm}
            least={0.3}
            most={50}
            onChange={(wall_mm, group) => change({ ...heights, back: { ...back, wall_mm } }, group)}
          />
        </FigureRow>
      )}
      {back.shape === 'curved' && (
        <FigureRow name="Radius of the curve" about="behind the piece, axis up and down">
          <LengthEntry
            title="Radius of the curve"
            value={back.radius_mm}
            least={10}
            most={5000}
            onChange={(radius_mm, group) => change({ ...heights, back: { ...back, radius_mm } }, group)}
          />
        </FigureRow>
      )}
      <FigureRow name="Carved over by the shrink" about="so that the casting comes out as drawn">
        <select
          className="asked"
          aria-label="Carved over by the shrink"
          value={heights.over}
          onChange={(event) => change({ ...heights, over: event.target.value as Heights['over'] })}
        >
          <option value="shrink">yes</option>
          <option value="none">no</option>
        </select>
      </FigureRow>
      <FigureRow
        name="Left for the file"
        about="round the outline and in drawn openings; not on hardware, nor in a stone’s well"
      >
        <LengthEntry
          title="Left for the file"
          value={heights.filing_mm ?? 0}
          least={0}
          most={2}
          onChange={(filing_mm, group) => change({ ...heights, filing_mm }, group)}
        />
      </FigureRow>
      <FigureRow name="Your hand, heights" about="nine cuts in ten lie within this">
        <LengthEntry
          title="Your hand, heights"
          value={hand.height_mm}
          least={0}
          most={3}
          onChange={(height_mm, group) => change({ ...heights, hand: { ...hand, height_mm } }, group)}
        />
      </FigureRow>
      <FigureRow name="Your hand, outlines">
        <LengthEntry
          title="Your hand, outlines"
          value={hand.outline_mm}
          least={0}
          most={3}
          onChange={(outline_mm, group) => change({ ...heights, hand: { ...hand, outline_mm } }, group)}
        />
      </FigureRow>
    </FigureRows>
  )
}
