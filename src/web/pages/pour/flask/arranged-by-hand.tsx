import { useCallback, useEffect, useMemo, useState } from 'react'
import { type Arrangement, type Dimension, isOnlyTold, isShort } from '../../../../engine/arrange/index.ts'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import { holdsKept, keepsArrangement } from '../../../../engine/keep-arrangement.ts'
import type { Arranged } from '../../../arrange-worker.ts'
import { Mind } from '../../../parts/mind.tsx'
import { Swap } from '../../../parts/swap.tsx'
import type { ScenePart } from '../../../scene/arrangement-scene.ts'
import { ArrangementView } from '../../../scene/arrangement-view.tsx'
import type { Turned } from '../../../scene/orbit.ts'
import { mouldPart, treeParts } from '../../../scene/tree-parts.ts'
import type { ArrangementView as Work } from '../../../state/arrangement.ts'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { useUnits } from '../../../state/units.ts'
import { LengthEntry } from '../pattern/length-entry.tsx'
import { brokenWords } from './broken-words.ts'
import { Distances } from './distances.tsx'
import { SpruesByHand } from './sprues-by-hand.tsx'
import { isWax, useByHand } from './use-by-hand.ts'
import { WaxesByHand } from './waxes-by-hand.tsx'
import { useWriting } from './writing.ts'

const OPENING: Turned = { turn: 34, tip: 17, zoom: 1 }
const FROM_THE_FRONT: Turned = { turn: 0, tip: 0, zoom: 1 }
const FROM_ABOVE: Turned = { turn: 0, tip: 90, zoom: 1 }
const DRAWN = 4
const MOST_BROKEN = 5
const nameOf = ({ piece, copy }: { piece: string; copy: number }): string => `${piece}/${copy}`

type Flask = NonNullable<Arrangement['flask']>

const Slider = ({
  name,
  value,
  least,
  most,
  onChange,
}: {
  name: string
  value: number
  least: number
  most: number
  onChange: (value: number) => void
}) => (
  <label className="turn-line">
    <span>{name}</span>
    <input
      type="range"
      min={least}
      max={most}
      step={1}
      value={value}
      aria-valuetext={`${value} degrees`}
      onChange={(event) => onChange(Number(event.target.value))}
    />
    <span className="u">{value}°</span>
  </label>
)

/** Old distances with those of the wax on its way in the place of its own. */
const withFollowed = (
  arranged: Arranged,
  sprues: Arrangement['sprues'],
  followed: Work['followed'],
): readonly Dimension[] => {
  if (followed === undefined) return arranged.dimensions
  const { wax } = followed
  const own = new Set([
    nameOf(wax),
    ...sprues.flatMap((sprue, index) => (isWax(wax)(sprue) ? [`sprue/${index + 1}`] : [])),
  ])
  return [
    ...followed.dimensions,
    ...arranged.dimensions.filter(({ between }) => !between.some((place) => own.has(place))),
  ].sort((a, b) => a.distance_mm - a.needed_mm - (b.distance_mm - b.needed_mm))
}

/** The arrangement in its flask: looked at from all sides, moved and sprued by hand, measured and kept. */
export const ArrangedByHand = ({
  arranged,
  arrangement,
  flask,
  work,
}: {
  arranged: Arranged
  arrangement: Arrangement
  flask: Flask
  work: Work
}) => {
  const pour = usePour()
  const documents = useDocuments()
  const units = useUnits()
  const write = useWriting(true)
  const hand = useByHand({ ...arranged, arrangement }, flask, work)
  const [turned, setTurned] = useState(OPENING)
  const [chosen, choose] = useState<string | undefined>(undefined)
  const [shown, setShown] = useState<'wax' | 'metal' | 'mould'>('wax')
  const [pressing, setPressing] = useState<'hold' | 'mark'>('hold')
  const [clearRadius, setClearRadius] = useState(3)
  const [flat, setFlat] = useState(false)
  const fail = useCallback(() => setFlat(true), [])
  const { standing } = hand
  const followed = hand.onTheWay ? work.followed : undefined
  const dimensions = useMemo(
    () => withFollowed(arranged, arrangement.sprues, followed),
    [arranged, arrangement, followed],
  )
  const broken = dimensions.filter(isShort)

  const { askInvestment } = work
  const wantsMould = shown === 'mould' && work.investment === undefined
  const { key } = arranged
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once for each arrangement that is looked into; what it asks with is made anew at every render, and depending on that would ask without end
  useEffect(() => {
    if (wantsMould && !work.settling) askInvestment({ do: 'investment', ask: hand.ask, key, arrangement })
  }, [wantsMould, key, work.settling])

  const sprueIndex = chosen?.startsWith('sprue/') === true ? Number(chosen.slice(6)) - 1 : undefined
  const parts = useMemo((): ScenePart[] => {
    if (shown === 'mould') return work.investment === undefined ? [] : [mouldPart(work.investment)]
    const near = new Set(broken.flatMap(({ between }) => between))
    const waxes = standing.placements.flatMap((wax): ScenePart[] => {
      const drawn = arranged.pieces[wax.piece]
      const shape = drawn && work.shapes[drawn.shape]
      if (drawn === undefined || shape === undefined) return []
      const id = nameOf(wax)
      const clear = pour.pieces.find((piece) => piece.id === wax.piece)?.keepClear ?? []
      return [
        {
          id,
          ...shape,
          motion: wax.motion,
          paint: shown,
          picked: true,
          clear: clear.map(({ at_mm: [x, y, z], radius_mm }) => ({
            at: [x * drawn.over, y * drawn.over, z * drawn.over],
            radius: radius_mm * drawn.over,
          })),
          ...(chosen === id ? { mark: 'chosen' as const } : near.has(id) && { mark: 'near' as const }),
        },
      ]
    })
    const { base, button_mm } = arranged
    const stem_mm = arrangement.stem?.diameter_mm ?? 0
    const tree =
      base === undefined
        ? []
        : treeParts({ base, stem_mm, button_mm, sprues: standing.sprues }, shown, sprueIndex, near)
    return [...waxes, ...tree]
  }, [
    shown,
    work.investment,
    work.shapes,
    standing,
    arranged,
    arrangement,
    pour.pieces,
    chosen,
    broken,
    sprueIndex,
  ])

  const wax = standing.placements.find((one) => nameOf(one) === chosen)
  const drawn = wax && arranged.pieces[wax.piece]
  const sprue = sprueIndex === undefined ? undefined : standing.sprues[sprueIndex]
  const drawnDimensions = [
    ...broken.slice(0, MOST_BROKEN),
    ...dimensions.filter((one) => !isShort(one)).slice(0, Math.max(0, DRAWN - broken.length)),
  ]
  const mark = (id: string, at: readonly [number, number, number]): void => {
    const found = standing.placements.find((one) => nameOf(one) === id)
    if (found === undefined) return
    const over = arranged.pieces[found.piece]?.over ?? 1
    const place = [at[0] / over, at[1] / over, at[2] / over] as const
    const balls = pour.pieces.find((piece) => piece.id === found.piece)?.keepClear ?? []
    const left = balls.filter(
      ({ at_mm, radius_mm }) =>
        Math.hypot(at_mm[0] - place[0], at_mm[1] - place[1], at_mm[2] - place[2]) > radius_mm,
    )
    hand.keepClear(
      found.piece,
      left.length < balls.length ? left : [...balls, { at_mm: [...place], radius_mm: clearRadius / over }],
    )
  }
  const kept = keepsArrangement(pour)
  const isStopped = !arrangement.fits || arranged.problems.some(({ level }) => level === 'stop')
  const lockedCount = (pour.tree.locked ?? []).length
  const tightest = dimensions.find((one) => !isOnlyTold(one))
  const words = tightest && brokenWords(tightest, pour.pieces, write, units.length)
  const busy = work.working || work.settling

  return (
    <>
      <section aria-label="The arrangement in its flask">
        {!flat && (
          <>
            <div className="row view-choices">
              <Swap
                label="Shown in"
                choices={[
                  ['wax', 'wax'],
                  ['metal', 'metal'],
                  ['mould', 'investment'],
                ]}
                current={shown}
                onChoose={setShown}
              />
              {shown !== 'mould' && (
                <Swap
                  label="A press"
                  choices={[
                    ['hold', 'moves'],
                    ['mark', 'keeps clear'],
                  ]}
                  current={pressing}
                  onChoose={setPressing}
                />
              )}
            </div>
            {pressing === 'mark' && shown !== 'mould' && (
              <p className="sm mark-how">
                Press on a wax where no sprue may join; press again to take it off. Kept clear{' '}
                <LengthEntry
                  title="Radius kept clear"
                  value={clearRadius}
                  least={0.2}
                  most={100}
                  onChange={setClearRadius}
                />{' '}
                round it.
              </p>
            )}
            <ArrangementView
              parts={parts}
              flask={flask}
              turned={turned}
              onTurn={setTurned}
              dimensions={
                shown === 'mould'
                  ? []
                  : drawnDimensions.map((one) => ({
                      points: one.points,
                      text: isShort(one)
                        ? `${one.distance_mm < 0 ? `${write(-one.distance_mm)} past` : write(one.distance_mm)}, needs ${write(one.needed_mm)}`
                        : write(one.distance_mm),
                      broken: isShort(one),
                    }))
              }
              wax={
                wax === undefined || drawn === undefined || shown === 'mould'
                  ? undefined
                  : {
                      id: nameOf(wax),
                      name: nameInFlask(nameOf(wax), pour.pieces),
                      motion: wax.motion,
                      middle: drawn.middle,
                      radius: drawn.radius,
                    }
              }
              sprue={
                sprue === undefined || sprueIndex === undefined || shown === 'mould'
                  ? undefined
                  : {
                      id: `sprue/${sprueIndex + 1}`,
                      name: `sprue ${sprueIndex + 1}`,
                      wax: nameOf(sprue),
                      joint: sprue.from_mm,
                      axis: sprue.axis_mm,
                    }
              }
              pressing={shown === 'mould' ? 'hold' : pressing}
              onChoose={choose}
              onMark={mark}
              onMove={(motion, done) => {
                if (wax === undefined) return
                if (done) hand.move({ ...wax, motion })
                else hand.follow({ ...wax, motion })
              }}
              onLeave={hand.leave}
              onJoint={(at, done) => {
                if (sprue === undefined || sprueIndex === undefined) return
                const over = arranged.pieces[sprue.piece]?.over ?? 1
                const place: [number, number, number] = [at[0] / over, at[1] / over, at[2] / over]
                if (done) hand.changeSprue(sprueIndex, { at_mm: place })
                else hand.followSprue(sprueIndex, place)
              }}
              onAxis={(axis_mm, done) => {
                if (sprueIndex === undefined) return
                if (done) hand.changeSprue(sprueIndex, { axis_mm })
                else hand.followSprue(sprueIndex, undefined, axis_mm)
              }}
              label={`${pour.name} in its flask, turned ${turned.turn} degrees and seen from ${turned.tip} degrees above. Tightest: ${words ?? 'nothing is measured'}; the table has the others`}
              onFail={fail}
            />
            {shown === 'mould' && work.investment === undefined && (
              <p className="sm muted" role="status">
                The investment is being worked out.
              </p>
            )}
            <div className="turning">
              <Slider
                name="Turn"
                value={turned.turn}
                least={-180}
                most={180}
                onChange={(turn) => setTurned({ ...turned, turn })}
              />
              <Slider
                name="From above"
                value={turned.tip}
                least={-90}
                most={90}
                onChange={(tip) => setTurned({ ...turned, tip })}
              />
              <p className="row">
                {(
                  [
                    ['From the front', FROM_THE_FRONT],
                    ['From above', FROM_ABOVE],
                    ['Askew', OPENING],
                  ] as const
                ).map(([title, view]) => (
                  <button key={title} type="button" className="btn thin" onClick={() => setTurned(view)}>
                    {title}
                  </button>
                ))}
              </p>
            </div>
          </>
        )}
        {flat && (
          <p className="sm muted">
            This browser draws nothing in space; the drawing below and the numbers beside it say the same.
          </p>
        )}
      </section>
      <section aria-label="Places, sprues and distances">
        {!arrangement.fits && lockedCount === 0 && (
          <Mind level="stop">
            As the waxes stand, not every clearance is kept: {words === undefined ? '' : `${words}. `}
            Place all anew, or move what is too near.
          </Mind>
        )}
        <WaxesByHand
          arranged={arranged}
          hand={hand}
          chosen={chosen}
          choose={choose}
          dimensions={dimensions}
        />
        <p className="row hand-row">
          <button type="button" className="btn" disabled={busy} onClick={hand.placeAnew}>
            {work.working ? 'Being placed' : lockedCount > 0 ? 'Place the others anew' : 'Place all anew'}
          </button>
          {lockedCount > 0 && (
            <button type="button" className="btn" onClick={() => hand.free(undefined)}>
              Let all go
            </button>
          )}
          {work.hasBefore && (
            <button type="button" className="btn" disabled={busy} onClick={work.putBack}>
              The places before
            </button>
          )}
          <button type="button" className="btn" onClick={documents.undo}>
            Undo
          </button>
        </p>
        <section aria-label="Keep this arrangement" className="keep-arrangement">
          <p className="sm">
            {kept
              ? isStopped
                ? 'Kept in the pour; until the stop is mended the plan, its charge too, reckons with outside boxes and not with these places.'
                : 'Kept: the whole plan reckons with these places, sprues and this flask.'
              : 'The plan reckons with these places. Keeping writes each of them, every sprue and the flask into the pour.'}
          </p>
          {arranged.onlyHere && (
            <Mind level="check">
              A wax that you have not locked may stand elsewhere on the printed sheet, and here when the page
              is next opened: each finds it a place anew, round what your hand has set. Keep this arrangement,
              and all have this one.
            </Mind>
          )}
          <p className="row">
            {!kept && (
              <button type="button" className="btn go" disabled={busy} onClick={hand.keepAll}>
                Keep this arrangement
              </button>
            )}
            {holdsKept(pour) && (
              <button type="button" className="btn" disabled={busy} onClick={hand.letAllGo}>
                Let it go
              </button>
            )}
          </p>
        </section>
        <SpruesByHand
          arranged={arranged}
          arrangement={arrangement}
          hand={hand}
          chosen={chosen}
          choose={choose}
          clearRadius={clearRadius}
        />
        <Distances dimensions={dimensions} offAxis_mm={arranged.offAxis_mm} />
      </section>
    </>
  )
}
