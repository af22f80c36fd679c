import { useCallback, useEffect, useMemo, useState } from 'react'
import type { Heights } from '../../../../engine/documents/heights.ts'
import { usualCut } from '../../../../engine/pattern/section/index.ts'
import { Swap } from '../../../parts/swap.tsx'
import { FROM_THE_FRONT, OPENING, ReliefView } from '../../../scene/relief-view.tsx'
import { mapWalls, type WallMap } from '../../../scene/wall-map.ts'
import type { PatternView } from '../../../state/pattern-work.ts'
import { CastableSpots, spotLetter, spotsShown, WallsKey } from './castable-spots.tsx'
import { PatternProblems } from './drawing-column.tsx'
import { regionAt } from './drawing-view.tsx'
import type { RegionGroup } from './groups.ts'
import { MeasuredRelief } from './measured-relief.tsx'
import { SectionDrawing } from './section-drawing.tsx'
import type { Tool } from './tools.ts'
import type { ChangeHeights } from './use-heights.ts'

/** A change that is worked out sooner than this is not worth a word. */
const PATIENCE_MS = 300

const useLong = (holds: boolean): boolean => {
  const [long, setLong] = useState(false)
  useEffect(() => {
    if (!holds) {
      setLong(false)
      return
    }
    const timer = setTimeout(() => setLong(true), PATIENCE_MS)
    return () => clearTimeout(timer)
  }, [holds])
  return long
}

const STEP = 5

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
      onKeyDown={(event) => {
        const way = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0
        if (way === 0) return
        event.preventDefault()
        onChange(Math.max(least, Math.min(most, value + way * (event.shiftKey ? 1 : STEP))))
      }}
    />
    <span className="u">{value}°</span>
  </label>
)

/** The top of the highest cut-back ground, a hair over; 0 where something raised is lower still. */
const groundTopOf = (groups: readonly RegionGroup[]): number => {
  const of = (roles: readonly string[]): number[] =>
    groups.flatMap(({ setting }) =>
      setting.role !== 'through' && roles.includes(setting.role) ? [setting.height_mm] : [],
    )
  const top = Math.max(0, ...of(['ground', 'seat']))
  return Math.min(...of(['raised'])) > top ? top + 0.02 : 0
}

export interface ReliefColumnProps {
  readonly view: PatternView & { readonly behind: boolean }
  readonly groups: readonly RegionGroup[]
  readonly heights: Heights
  readonly change: ChangeHeights
  readonly name: string
  readonly tool: Tool
  readonly setTool: (tool: Tool) => void
}

/** The piece as it will stand out of its ground, and where it is hard to cast. */
export const ReliefColumn = (props: ReliefColumnProps) => {
  const { view, groups, heights, change, tool, setTool } = props
  const [material, setMaterial] = useState<'wax' | 'metal'>('wax')
  const [shown, setShown] = useState<'plain' | 'walls'>('plain')
  const [turned, setTurned] = useState(OPENING)
  const [flat, setFlat] = useState(false)
  const fail = useCallback(() => setFlat(true), [])
  const late = useLong(view.behind)
  const { relief, edges, castable } = view
  const measured = castable !== undefined && view.measuredOf === view.shapeOf
  const tops = useMemo(() => new Map(relief?.regions.map(({ id, height_mm }) => [id, height_mm])), [relief])
  const bounds = relief?.bounds_mm ?? undefined
  const labels = useMemo(
    () =>
      groups.flatMap((group) => {
        const [first] = group.regions
        if (first === undefined) return []
        const [x, y] = first.at_mm
        return [{ at: [x, y, tops.get(first.id) ?? 0] as const, text: String(group.number) }]
      }),
    [groups, tops],
  )
  const walls = useMemo<WallMap | undefined>(
    () => (shown === 'walls' && measured && castable !== undefined ? mapWalls(castable) : undefined),
    [shown, measured, castable],
  )
  const spotLabels = useMemo(
    () =>
      castable === undefined
        ? []
        : spotsShown(castable).map((spot, index) => {
            const under = regionAt(
              groups.flatMap((group) => group.regions),
              spot.at_mm,
            )
            const [x, y] = spot.at_mm
            return { at: [x, y, tops.get(under?.id ?? '') ?? 0] as const, text: spotLetter(index) }
          }),
    [castable, groups, tops],
  )
  const groundTop = heights.back.shape === 'curved' ? 0 : groundTopOf(groups)
  const cuts =
    bounds === undefined ? [] : heights.sections.length > 0 ? heights.sections : [usualCut(bounds, groups)]
  return (
    <section
      aria-label="The relief"
      className="relief-column"
      aria-busy={view.behind && relief === undefined}
    >
      <div className="title-row">
        <h2 className="sh">The relief, in {material}</h2>
        <span className="row">
          <Swap
            label="Shown in"
            choices={[
              ['wax', 'wax'],
              ['metal', 'metal'],
            ]}
            current={material}
            onChoose={setMaterial}
          />
          <Swap
            label="Shown with"
            choices={[
              ['plain', 'plain'],
              ['walls', 'walls'],
            ]}
            current={shown}
            onChoose={setShown}
          />
        </span>
      </div>
      {relief === undefined || edges === undefined || bounds === undefined ? (
        <p className="working relief-wait">
          {view.reading === undefined || view.behind
            ? 'The relief is being worked out.'
            : 'No relief yet: it waits for a drawing with at least one closed region.'}
        </p>
      ) : (
        <>
          <div className={late ? 'relief-stage behind' : 'relief-stage'}>
            {flat ? (
              <MeasuredRelief bounds={bounds} groups={groups} tops={tops} name={props.name} />
            ) : (
              <ReliefView
                mesh={relief.mesh}
                edges={edges}
                bounds={bounds}
                labels={walls === undefined ? labels : spotLabels}
                turned={turned}
                onTurn={setTurned}
                material={material}
                groundTop={groundTop}
                walls={walls}
                label={`${props.name} in ${material}, turned ${turned.turn} degrees and seen from ${turned.tip} degrees above; sections stand below and heights in the table`}
                onFail={fail}
              />
            )}
            {late && <p className="working stale-mark">from before the change</p>}
          </div>
          {walls !== undefined && castable !== undefined && <WallsKey castable={castable} />}
          {!flat && (
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
                <button type="button" className="btn thin" onClick={() => setTurned(FROM_THE_FRONT)}>
                  From the front
                </button>
                <button
                  type="button"
                  className="btn thin"
                  onClick={() => setTurned({ ...OPENING, tip: -46 })}
                >
                  From the back
                </button>
                <button type="button" className="btn thin" onClick={() => setTurned(OPENING)}>
                  Askew
                </button>
              </p>
            </div>
          )}
          {cuts.map((cut) => (
            <SectionDrawing
              key={cut.name}
              mesh={relief.unbent ?? relief.mesh}
              cut={cut}
              filing_mm={heights.filing_mm}
              material={material}
              beforeBending={relief.unbent !== undefined}
            />
          ))}
          <p className="row">
            <button
              type="button"
              className="btn thin"
              aria-pressed={tool === 'section'}
              onClick={() => setTool(tool === 'section' ? 'look' : 'section')}
            >
              Place a section
            </button>
            {heights.sections.map((section) => (
              <button
                key={section.name}
                type="button"
                className="quiet small"
                onClick={() =>
                  change({
                    ...heights,
                    sections: heights.sections.filter((one) => one.name !== section.name),
                  })
                }
              >
                take section {section.name} out
              </button>
            ))}
          </p>
          <PatternProblems problems={relief.problems} />
          {castable === undefined ? (
            <p className="working">Walls are being measured.</p>
          ) : (
            <CastableSpots castable={castable} behind={!measured && late} />
          )}
        </>
      )}
    </section>
  )
}
