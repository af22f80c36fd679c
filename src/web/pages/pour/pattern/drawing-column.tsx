import { type ReactNode, useEffect, useMemo, useState } from 'react'
import type { PhotoSetting } from '../../../../engine/documents/heights.ts'
import type { Gap, PatternProblem, Place } from '../../../../engine/pattern/drawing.ts'
import type { PatternReading } from '../../../../engine/pattern/read-pattern.ts'
import { keyed } from '../../../parts/keyed.ts'
import { Mind } from '../../../parts/mind.tsx'
import { letGoOf } from '../../../state/address.ts'
import { useDocuments } from '../../../state/documents.tsx'
import type { PatternPiece, PatternView } from '../../../state/pattern-work.ts'
import { DrawingView } from './drawing-view.tsx'
import { type Frame, frameOfBounds, frameOfPicture, sheetOf } from './frame.ts'
import type { RegionGroup } from './groups.ts'
import { PhotoMarks } from './photo-marks.tsx'
import { PhotoScale, startingPhoto } from './photo-scale.tsx'
import { ToolForm } from './tool-form.tsx'
import { sayCorrection, TOOLS, type Tool, withHardwareAt, withTool } from './tools.ts'
import { UnitsAsked } from './units-asked.tsx'
import { type ChangeHeights, useLengths } from './use-heights.ts'

const PICTURES = /\.(png|jpe?g|webp)$/i

interface Photo {
  readonly url: string
  readonly width: number
  readonly height: number
}

/** The photo's own bytes, so that it shows as taken; the page's policy lets it stand as a blob. */
const usePhoto = ({ source }: PatternPiece): Photo | undefined => {
  const { sha256, file } = source
  const [photo, setPhoto] = useState<Photo | undefined>(undefined)
  useEffect(() => {
    if (sha256 === undefined || !PICTURES.test(file)) return
    let url: string | undefined
    let current = true
    const read = async (): Promise<void> => {
      const response = await fetch(`/api/models/${sha256}`)
      if (!response.ok) return
      url = URL.createObjectURL(new Blob([await response.arrayBuffer()]))
      const image = new Image()
      image.src = url
      await image.decode()
      if (current) setPhoto({ url, width: image.naturalWidth, height: image.naturalHeight })
    }
    // what is wrong with it is said by the worker that reads it
    read().catch(() => undefined)
    return () => {
      current = false
      if (url !== undefined) letGoOf(url)
    }
  }, [sha256, file])
  return photo
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
const ended = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`)

/** Of one kind of trouble the first is said in full, and how many more there are. */
export const PatternProblems = ({ problems }: { problems: readonly PatternProblem[] }) => {
  const { say } = useLengths()
  const kinds = new Map<string, PatternProblem[]>()
  for (const problem of problems) {
    const kind = `${problem.kind} ${problem.level}`
    kinds.set(kind, [...(kinds.get(kind) ?? []), problem])
  }
  return [...kinds.values()].map(([first, ...more]) =>
    first === undefined ? null : (
      <Mind key={`${first.kind} ${first.where} ${first.what}`} level={first.level}>
        {ended(capital(say(first.what)))} {ended(capital(say(first.remedy)))}
        {more.length > 0 && (
          <details className="more-alike">
            <summary>{more.length === 1 ? 'One more like it' : `${more.length} more like it`}</summary>
            <ul>
              {keyed(more, ({ what }) => what).map(({ key, row: one }) => (
                <li key={key}>{ended(capital(say(one.what)))}</li>
              ))}
            </ul>
          </details>
        )}
      </Mind>
    ),
  )
}

const Gaps = ({ gaps, close }: { gaps: readonly Gap[]; close: (gap: Gap) => void }) => {
  const { write, label } = useLengths()
  return (
    <ul className="gap-list">
      {gaps.map((gap) => (
        <li key={`${gap.from_mm} ${gap.to_mm}`}>
          <span>
            Open by {write(gap.gap_mm)} {label} at {write(gap.from_mm[0])}, {write(gap.from_mm[1])}
          </span>
          <button type="button" className="btn thin" onClick={() => close(gap)}>
            Close it
          </button>
        </li>
      ))}
    </ul>
  )
}

const Corrections = ({ piece, change }: { piece: PatternPiece; change: ChangeHeights }) => {
  const { write } = useLengths()
  const { heights } = piece.source
  if (heights.corrections.length === 0) return null
  return (
    <details className="fold">
      <summary>
        {heights.corrections.length === 1 ? 'One correction' : `${heights.corrections.length} corrections`} by
        hand
      </summary>
      <ol className="corrections">
        {heights.corrections.map((correction, index) => {
          const said = sayCorrection(correction, write)
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: corrections are made in this order
            <li key={`${index} ${said}`}>
              {capital(said)}
              <button
                type="button"
                className="quiet small"
                onClick={() =>
                  change({ ...heights, corrections: heights.corrections.filter((_, at) => at !== index) })
                }
              >
                take back<span className="vh">: {said}</span>
              </button>
            </li>
          )
        })}
      </ol>
    </details>
  )
}

const FOUND_WORDS = (reading: PatternReading): string => {
  const { regions, trace } = reading
  const count = regions.regions.length
  const parts = [count === 1 ? '1 region' : `${count} regions`]
  if (trace !== undefined && trace.dropped > 0)
    parts.push(trace.dropped === 1 ? '1 speck dropped' : `${trace.dropped} specks dropped`)
  return parts.join('; ')
}

export interface DrawingColumnProps {
  readonly piece: PatternPiece
  readonly index: number
  readonly letter: string
  readonly name: string
  readonly view: PatternView
  readonly groups: readonly RegionGroup[]
  readonly chosen: readonly string[]
  readonly choose: (region: string | undefined) => void
  readonly change: ChangeHeights
  readonly tool: Tool
  readonly setTool: (tool: Tool) => void
  /** the hardware that the tool for it stands */
  readonly standing: number
  /** right under the drawing */
  readonly beneath?: ReactNode
}

/** The drawing as it came, what was found in it, and what is put right by hand. */
export const DrawingColumn = (props: DrawingColumnProps) => {
  const { piece, view, groups, change, tool, setTool } = props
  const { heights } = piece.source
  const { undo } = useDocuments()
  const { write, label } = useLengths()
  const photo = usePhoto(piece)
  const [from, setFrom] = useState<Place | undefined>(undefined)
  // until the caster says so, marks are only a proposal: the piece has no scale and so no weight
  const [draft, setDraft] = useState<PhotoSetting | undefined>(undefined)
  const [placed, setPlaced] = useState<ReadonlySet<number>>(new Set())
  const confirmed = heights.photo !== undefined
  const setting = heights.photo ?? draft
  const { reading } = view
  const isPhoto = PICTURES.test(piece.source.file)

  useEffect(() => {
    if (photo !== undefined) setDraft(startingPhoto(photo))
  }, [photo])
  // biome-ignore lint/correctness/useExhaustiveDependencies: a first place belongs to the tool it was pressed with
  useEffect(() => setFrom(undefined), [tool])

  const bounds = reading?.regions.bounds_mm ?? undefined
  const frame = useMemo<Frame | undefined>(() => {
    if (photo !== undefined)
      return frameOfPicture(photo, setting === undefined ? undefined : sheetOf(setting, photo))
    return bounds === undefined || isPhoto ? undefined : frameOfBounds(bounds)
  }, [photo, setting, bounds, isPhoto])

  const use = (start: Place, end: Place): void => {
    if (tool === 'look') return
    change(withTool(heights, tool, start, end, props.standing))
    setFrom(undefined)
    if (tool === 'mirror' || tool === 'section' || tool === 'hardware') setTool('look')
  }
  const press = (place: Place): void => {
    if (tool === 'look') return
    if (TOOLS[tool].places === 1) use(place, place)
    else if (from === undefined) setFrom(place)
    else use(from, place)
  }
  const setPhoto = (next: PhotoSetting, group?: string): void => {
    if (confirmed) change({ ...heights, photo: next }, group)
    else setDraft(next)
  }
  const confirm = (next: PhotoSetting): void => change({ ...heights, photo: next })
  const scale = setting?.scale
  const spots = scale === undefined ? [] : scale.by === 'sheet' ? scale.corners_px : scale.points_px
  const sides =
    scale === undefined
      ? []
      : scale.by === 'sheet'
        ? ['', `${write(scale.height_mm)} ${label}`, `${write(scale.width_mm)} ${label}`, '']
        : [`${write(scale.apart_mm)} ${label}`]
  const moved = (next: readonly (readonly [number, number])[], group: string): void => {
    if (setting === undefined || scale === undefined) return
    const plain = next.map(([x, y]): [number, number] => [x, y])
    const [a, b, c, d] = plain
    if (a === undefined || b === undefined) return
    const held =
      scale.by === 'two-points'
        ? { ...scale, points_px: [a, b] as [typeof a, typeof b] }
        : c === undefined || d === undefined
          ? scale
          : { ...scale, corners_px: [a, b, c, d] as [typeof a, typeof b, typeof c, typeof d] }
    const index = next.findIndex(([x, y], at) => x !== spots[at]?.[0] || y !== spots[at]?.[1])
    const now = new Set([...placed, index])
    setPlaced(now)
    const photoNow = { ...setting, scale: held }
    if (!confirmed && now.size === spots.length) confirm(photoNow)
    else setPhoto(photoNow, group === '' ? undefined : group)
  }
  const gaps = reading?.regions.gapsToClose ?? []
  const wide = bounds === undefined ? undefined : bounds.max[0] - bounds.min[0]
  const high = bounds === undefined ? undefined : bounds.max[1] - bounds.min[1]

  return (
    <section
      aria-label="The drawing"
      className="drawing-column"
      data-path={`/pour/pieces/${props.index}/source`}
    >
      <h2 className="sh">
        Drawing of {props.letter}, {props.name}
      </h2>
      {frame === undefined ? (
        view.trouble === undefined && reading === undefined ? (
          <p className="working drawing-wait">Reading {piece.source.file}.</p>
        ) : null
      ) : (
        <DrawingView
          frame={frame}
          label={`${piece.source.file}, ${groups.map((group) => `${group.number} ${group.name}${group.regions.length > 1 ? `, ${group.regions.length}` : ''}`).join('; ')}`}
          regions={reading?.regions.regions ?? []}
          groups={isPhoto ? [] : groups}
          marks={reading?.drawing.marks ?? []}
          gaps={gaps}
          sections={heights.sections}
          chosen={props.chosen}
          choose={props.choose}
          tool={tool}
          from={from}
          press={press}
          hardware={heights.hardware}
          moveHardware={(which, place, group) => change(withHardwareAt(heights, which, place), group)}
          {...(photo !== undefined && {
            photo: <img src={photo.url} alt="" width={photo.width} height={photo.height} draggable={false} />,
            over: tool === 'look' && (
              <PhotoMarks picture={photo} url={photo.url} spots={spots} sides={sides} onMoved={moved} />
            ),
          })}
        />
      )}
      {props.beneath}
      {view.trouble !== undefined && (
        <Mind level="stop">
          {piece.source.file}: {ended(view.trouble)} The file is kept as it was; it can be replaced on the
          pieces page.
        </Mind>
      )}
      {photo !== undefined && setting !== undefined && !confirmed && (
        <div className="marks-asked">
          <Mind level="stop">
            The picture has no scale yet, so nothing is weighed or priced. Bring{' '}
            {setting.scale.by === 'sheet'
              ? 'marks 1 to 4 to the corners of the sheet'
              : 'marks 1 and 2 to their places'}
            , say what it measures, and press.
          </Mind>
          <button type="button" className="btn go" onClick={() => confirm(setting)}>
            {setting.scale.by === 'sheet' ? 'These are the corners' : 'These are the two points'}
          </button>
        </div>
      )}
      {photo !== undefined && setting !== undefined && (
        <PhotoScale
          photo={setting}
          picture={photo}
          set={(next, group) => {
            if (next.scale.by !== setting.scale.by) setPlaced(new Set())
            setPhoto(next, group)
          }}
          straightness_mm={reading?.trace?.straightness_mm}
        />
      )}
      {wide !== undefined && high !== undefined && (reading?.regions.regions.length ?? 0) > 0 && (
        <p className="comes-out">
          <span>{props.name} comes out</span>
          <b>
            {write(wide)} × {write(high)} {label}
          </b>
        </p>
      )}
      {reading !== undefined && !isPhoto && (!reading.drawing.units.said || heights.units !== undefined) && (
        <UnitsAsked
          drawing={reading.drawing}
          regions={reading.regions}
          heights={heights}
          change={change}
          volume_mm3={view.relief?.volume_mm3}
        />
      )}
      <div className="tools">
        {(['drop', 'join', 'move', 'mirror'] as const).map((one) => (
          <button
            key={one}
            type="button"
            className="btn"
            aria-pressed={tool === one}
            onClick={() => setTool(tool === one ? 'look' : one)}
          >
            {TOOLS[one].name}
          </button>
        ))}
      </div>
      {tool !== 'look' && <ToolForm tool={tool} from={from} use={use} leave={() => setTool('look')} />}
      {reading !== undefined && reading.regions.regions.length > 0 && (
        <p className="sm muted found">
          {reading.trace !== undefined &&
            view.trouble === undefined &&
            'Green is the trace, laid over your ink so that you can check it. '}
          {FOUND_WORDS(reading)}
          {reading.trace?.joined.map(
            (one) =>
              `; a gap of ${write(one.gap_mm)} ${label} joined at ${write(one.at_mm[0])}, ${write(one.at_mm[1])}`,
          )}
          .{' '}
          {heights.corrections.length > 0 && (
            <button type="button" className="link" onClick={undo}>
              Undo the last change
            </button>
          )}
        </p>
      )}
      {gaps.length > 0 && (
        <Gaps gaps={gaps} close={(gap) => change(withTool(heights, 'join', gap.from_mm, gap.to_mm))} />
      )}
      <Corrections piece={piece} change={change} />
      {reading !== undefined && (
        <PatternProblems
          problems={reading.problems.filter(
            ({ kind }) => confirmed || kind !== 'photo-without-scale' || photo === undefined,
          )}
        />
      )}
    </section>
  )
}
