import { type Dimension, isShort, motionTo, type Stand, standOf } from '../../../../engine/arrange/index.ts'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import type { Pour } from '../../../../engine/documents/index.ts'
import type { Arranged, PlacedWax } from '../../../arrange-worker.ts'
import { keyed } from '../../../parts/keyed.ts'
import { Mind } from '../../../parts/mind.tsx'
import { usePour } from '../../../state/documents.tsx'
import { useUnits } from '../../../state/units.ts'
import { LengthEntry } from '../pattern/length-entry.tsx'
import { brokenWords, endsOf } from './broken-words.ts'
import { type ByHand, isWax } from './use-by-hand.ts'
import { useWriting } from './writing.ts'

const nameOf = ({ piece, copy }: { piece: string; copy: number }): string => `${piece}/${copy}`

const ENTRIES: readonly {
  readonly of: keyof Stand
  readonly title: string
  readonly unit: '/x_mm' | '/x_deg'
  readonly least: number
  readonly most: number
}[] = [
  { of: 'angle', title: 'Angle', unit: '/x_deg', least: -360, most: 360 },
  { of: 'up', title: 'Up', unit: '/x_mm', least: -100, most: 400 },
  { of: 'out', title: 'Out', unit: '/x_mm', least: 0, most: 200 },
  { of: 'tilt', title: 'Tilt', unit: '/x_deg', least: -180, most: 180 },
  { of: 'roll', title: 'Roll', unit: '/x_deg', least: -90, most: 90 },
  { of: 'twist', title: 'Twist', unit: '/x_deg', least: -180, most: 180 },
]

const tenth = (value: number): number => Math.round(value * 10) / 10 + 0

const Numbers = ({
  wax,
  arranged,
  hand,
  name,
}: {
  wax: PlacedWax
  arranged: Arranged
  hand: ByHand
  name: string
}) => {
  const drawn = arranged.pieces[wax.piece]
  if (drawn === undefined) return null
  const cone = arranged.base?.depth_mm ?? 0
  const stand = standOf(wax.motion, drawn.middle)
  return (
    <dl className="place-numbers">
      {ENTRIES.map(({ of, title, unit, least, most }) => (
        <div key={of}>
          <dt>{title}</dt>
          <dd>
            <LengthEntry
              title={`${title} of ${name}`}
              value={of === 'up' ? stand.up - cone : unit === '/x_deg' ? tenth(stand[of]) : stand[of]}
              least={least}
              most={most}
              unit={unit}
              onChange={(value, group) => {
                const motion = motionTo({ ...stand, [of]: of === 'up' ? value + cone : value }, drawn.middle)
                hand.move({ ...wax, motion }, group)
              }}
            />
          </dd>
        </div>
      ))}
    </dl>
  )
}

const TooNear = ({ distances }: { distances: readonly Dimension[] }) => {
  const { pieces } = usePour()
  const write = useWriting(true)
  const units = useUnits()
  return keyed(distances, endsOf).map(({ key, row }) => (
    <Mind key={key} level="stop">
      {brokenWords(row, pieces, write, units.length)}.
    </Mind>
  ))
}

const Marks = ({ piece, hand, pieces }: { piece: string; hand: ByHand; pieces: Pour['pieces'] }) => {
  const write = useWriting(false)
  const units = useUnits()
  const balls = pieces.find(({ id }) => id === piece)?.keepClear ?? []
  if (balls.length === 0) return null
  return (
    <ul className="clear-marks">
      {keyed(balls, ({ at_mm }) => at_mm.join(' ')).map(({ key, row: ball, index }) => (
        <li key={key}>
          <span>
            Kept clear, place {index + 1}, {write(ball.radius_mm)} {units.length} round
          </span>
          <button
            type="button"
            className="quiet small"
            onClick={() =>
              hand.keepClear(
                piece,
                balls.filter((_, k) => k !== index),
              )
            }
          >
            take place {index + 1} off
          </button>
        </li>
      ))}
    </ul>
  )
}

/** Every wax of the flask: press one to move it by numbers; what it breaks stands beside it in words. */
export const WaxesByHand = ({
  arranged,
  hand,
  chosen,
  choose,
  dimensions,
}: {
  arranged: Arranged
  hand: ByHand
  chosen: string | undefined
  choose: (id: string | undefined) => void
  dimensions: readonly Dimension[]
}) => {
  const pour = usePour()
  const write = useWriting(true)
  const units = useUnits()
  const locked = pour.tree.locked ?? []
  const broken = dimensions.filter(isShort)
  return (
    <section aria-label="Waxes by hand" className="waxes-by-hand">
      <h3 className="sh">Waxes</h3>
      <ul>
        {hand.standing.placements.map((wax) => {
          const id = nameOf(wax)
          const name = nameInFlask(id, pour.pieces)
          const open = chosen === id
          const isLocked = locked.some(isWax(wax))
          return (
            <li key={id} className={open ? 'chosen-wax' : undefined}>
              <div className="wax-line">
                <button
                  type="button"
                  className="wax-name"
                  aria-expanded={open}
                  onClick={() => choose(open ? undefined : id)}
                >
                  {name}
                </button>
                <span className="u">{isLocked ? 'locked' : 'free'}</span>
                <button
                  type="button"
                  className="btn thin"
                  aria-label={isLocked ? `Let ${name} go` : `Lock ${name}`}
                  onClick={() => (isLocked ? hand.free(wax) : hand.lock(wax))}
                >
                  {isLocked ? 'Let go' : 'Lock'}
                </button>
              </div>
              {open && <Numbers wax={wax} arranged={arranged} hand={hand} name={name} />}
              {open && <Marks piece={wax.piece} hand={hand} pieces={pour.pieces} />}
              <TooNear distances={broken.filter(({ between }) => between.includes(id))} />
            </li>
          )
        })}
      </ul>
      <TooNear
        distances={broken.filter(({ between }) =>
          between.every((place) => !hand.standing.placements.some((w) => nameOf(w) === place)),
        )}
      />
      <p className="vh" role="status">
        {broken.length === 0
          ? 'Everything keeps clear'
          : broken.map((one) => brokenWords(one, pour.pieces, write, units.length)).join('. ')}
      </p>
      <p className="sm muted">
        Up: the wax’s middle above the base’s cone; out: from the flask’s axis. Tilt leans it outward, roll
        sideways; twist turns it about its own upright. A wax you move is locked there.
      </p>
    </section>
  )
}
