import type { PhotoSetting } from '../../documents/heights.ts'
import type { Drawing, Mark, PatternProblem, Place } from '../drawing.ts'
import { signedArea } from '../loops.ts'
import { type Blob, findBlobs, paint } from './blobs.ts'
import { type LineFacts, refineStrokes, thinOut } from './centre-line.ts'
import { inkDepth } from './depth.ts'
import { findFilledShapes } from './filled-shapes.ts'
import { type FlatSheet, flattenSheet } from './flatten.ts'
import { type SheetMap, sheetMapOf } from './homography.ts'
import { findInkLevel } from './ink.ts'
import { type Joined, joinGaps, type LooseEnd } from './join-gaps.ts'
import { shareOfPaper } from './paper.ts'
import { type Field, greyOf, type Picture } from './picture.ts'
import {
  edgeInk,
  faintInk,
  nothingDrawn,
  perspectiveLeft,
  sheetDoubts,
  sheetOutside,
  sketchLines,
  thinLines,
  whatIsLoose,
  workedSmaller,
} from './problems.ts'
import { inReadingOrder } from './reading-order.ts'
import { measureStraightness } from './straightness.ts'
import { lengthOf, StrokeGraph, strokesOf, tidyStrokes } from './stroke-graph.ts'
import { thinInk } from './thin.ts'

/** A drawing traced from its photo, and what a person needs in order to check it. */
export interface PhotoTrace {
  /** its own list of problems is empty: they stand once, below */
  readonly drawing: Drawing
  /** how far the sheet's edge lies from the lines between the marks; undefined where no edge is seen */
  readonly straightness_mm: number | undefined
  /** specks of ink or paper left out */
  readonly dropped: number
  readonly joined: readonly { readonly at_mm: Place; readonly gap_mm: number }[]
  readonly problems: readonly PatternProblem[]
  /** the straightened sheet, small: one byte of brightness a pixel, upper row first */
  readonly flattened?: Field<Uint8Array> & { readonly mm_per_px: number }
}

export type PhotoStage = 'straighten' | 'paper' | 'ink' | 'thin' | 'strokes' | 'centre'

/**
 * Reads the ink of a photographed or scanned drawing as lines. A stroke up to `widest_line_mm` counts by its
 * centre, wider ink is a filled shape by its edge. Millimetres with the origin at the sheet's lower left; with
 * two points, at the picture's.
 * @param picture  upright
 * @param tick     called when a stage is done, for those who time it
 */
export function tracePhoto(
  picture: Picture,
  photo: PhotoSetting,
  tick: (stage: PhotoStage) => void = () => {},
): PhotoTrace {
  const map = sheetMapOf(photo.scale, picture)
  if ('refused' in map) return nothing([map.refused])
  const grey = greyOf(picture)
  const sheet = flattenSheet(grey, map)
  const straightness_mm = photo.scale.by === 'sheet' ? measureStraightness(grey, map) : undefined
  tick('straighten')
  const problems = [
    ...workedSmaller(picture, sheet),
    ...(photo.scale.by === 'sheet' ? sheetDoubts(photo.scale, map, picture) : [perspectiveLeft()]),
    ...sheetOutside(picture, map),
  ]
  const flattened = smallCopy(sheet)
  const share = shareOfPaper(sheet)
  tick('paper')
  const level = findInkLevel(share, photo.ink_below)
  if ('faint' in level)
    return { ...nothing([...problems, faintInk(level.faint)]), straightness_mm, flattened }
  const found = findInk(share, level.below, sheet, photo)
  tick('ink')
  problems.push(...edgeInk(found.overEdge, sheet.mm, map.height_mm))
  if (found.crop === undefined)
    return {
      ...nothing([...problems, nothingDrawn()]),
      straightness_mm,
      flattened,
      dropped: found.dropped,
    }
  const traced = traceInk(found.crop, level.below, sheet.mm, photo, tick)
  const place = (x: number, y: number): Place => [
    ((x + traced.left) * map.width_mm) / sheet.width,
    map.height_mm - ((y + traced.top) * map.height_mm) / sheet.height,
  ]
  problems.push(
    ...thinLines(traced.facts.width_px, sheet),
    ...whatIsLoose(traced.loose, sheet.mm, photo.join_mm, place),
    ...sketchLines(traced.bare.strokes.size),
  )
  const marks = marksOf(traced, sheet.mm, photo.speck_mm2, place)
  if (marks.every(({ vein }) => vein)) problems.push(nothingDrawn())
  return {
    drawing: {
      format: 'photo',
      marks,
      units: { is: 'mm', said: true },
      scaleSpread: scaleSpreadOf(photo, map, straightness_mm),
      outlineSpread_mm: Math.hypot(0.5 * sheet.mm, (traced.facts.widthWander_px / 2) * sheet.mm),
      problems: [],
    },
    straightness_mm,
    dropped: found.dropped + traced.dots,
    joined: traced.joined.map(({ x, y, gap }) => ({ at_mm: place(x, y), gap_mm: gap * sheet.mm })),
    problems,
    flattened,
  }
}

const nothing = (problems: PatternProblem[]): PhotoTrace => ({
  drawing: {
    format: 'photo',
    marks: [],
    units: { is: 'mm', said: true },
    scaleSpread: 0,
    outlineSpread_mm: 0,
    problems: [],
  },
  straightness_mm: undefined,
  dropped: 0,
  joined: [],
  problems,
})

/** A corner, or a point, is marked to about one pixel. */
const MARKED_PX = 1
/** Looking eight degrees askew shortens one way by a hundredth; common practice for a camera held by hand. */
const ASKEW = 0.01

function scaleSpreadOf(photo: PhotoSetting, map: SheetMap, straightness_mm: number | undefined): number {
  const { scale } = photo
  if (scale.by === 'two-points')
    return Math.hypot((Math.SQRT2 * MARKED_PX * map.mmPerPixel) / scale.apart_mm, ASKEW)
  const off = Math.max(MARKED_PX * map.mmPerPixel, (straightness_mm ?? 0) / 2)
  return off / Math.sqrt(map.width_mm * map.height_mm)
}

interface Crop {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
  readonly ink: Uint8Array
  readonly share: Float32Array
}

/** Smaller than this, in pixels, is grain of the picture rather than a speck on the paper. */
const GRAIN_PX = 6
/** Ink at the sheet's edge that reaches no further in is the table showing past the edge. */
const EDGE_MM = 3

function findInk(share: Float32Array, below: number, sheet: FlatSheet, photo: PhotoSetting) {
  const { width, height, mm } = sheet
  const ink = new Uint8Array(share.length)
  for (let at = 0; at < share.length; at += 1) ink[at] = (share[at] as number) < below ? 1 : 0
  const least = photo.speck_mm2 / (mm * mm)
  const overEdge: Blob[] = []
  const kept: Blob[] = []
  let dropped = 0
  for (const blob of findBlobs(ink, width, height, 1, true)) {
    const reaches = edgeReach(blob, width, height)
    if (reaches !== undefined) {
      paint(ink, blob, 0)
      if (reaches * mm > EDGE_MM) overEdge.push(blob)
    } else if (blob.pixels < least) {
      paint(ink, blob, 0)
      if (blob.pixels >= GRAIN_PX) dropped += 1
    } else kept.push(blob)
  }
  if (kept.length === 0) return { overEdge, dropped, crop: undefined }
  const crop = cropTo(kept, ink, share, sheet, Math.ceil(photo.widest_line_mm / mm) + 4)
  for (const blob of findBlobs(crop.ink, crop.width, crop.height, 0, false)) {
    if (blob.pixels >= least) continue
    paint(crop.ink, blob, 1)
    if (blob.pixels >= GRAIN_PX) dropped += 1
  }
  return { overEdge, dropped, crop }
}

/** What was kept with some paper round it, which may reach beyond the sheet. */
function cropTo(
  kept: readonly Blob[],
  ink: Uint8Array,
  share: Float32Array,
  sheet: FlatSheet,
  margin: number,
): Crop {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const blob of kept) {
    left = Math.min(left, blob.left - margin)
    top = Math.min(top, blob.top - margin)
    right = Math.max(right, blob.right + margin)
    bottom = Math.max(bottom, blob.bottom + margin)
  }
  const [width, height] = [right - left + 1, bottom - top + 1]
  const crop: Crop = {
    left,
    top,
    width,
    height,
    ink: new Uint8Array(width * height),
    share: new Float32Array(width * height).fill(1),
  }
  const [first, last] = [Math.max(0, left), Math.min(sheet.width - 1, right)]
  for (let y = Math.max(0, top); y <= Math.min(sheet.height - 1, bottom); y += 1) {
    const from = y * sheet.width
    const to = (y - top) * width + first - left
    crop.ink.set(ink.subarray(from + first, from + last + 1), to)
    crop.share.set(share.subarray(from + first, from + last + 1), to)
  }
  return crop
}

/** How far in from the picture's edge a blob that touches it reaches, pixels; undefined where it does not touch. */
function edgeReach(blob: Blob, width: number, height: number): number | undefined {
  const ways = [
    blob.left === 0 ? blob.right + 1 : Infinity,
    blob.top === 0 ? blob.bottom + 1 : Infinity,
    blob.right === width - 1 ? width - blob.left : Infinity,
    blob.bottom === height - 1 ? height - blob.top : Infinity,
  ]
  const least = Math.min(...ways)
  return least === Infinity ? undefined : least
}

interface Traced {
  readonly graph: StrokeGraph
  readonly shapes: readonly (readonly number[][])[]
  readonly joined: readonly Joined[]
  readonly loose: readonly LooseEnd[]
  /** strokes that stand alone and bound nothing */
  readonly bare: StrokeGraph
  readonly facts: LineFacts
  readonly dots: number
  readonly left: number
  readonly top: number
}

function traceInk(
  crop: Crop,
  below: number,
  mm: number,
  photo: PhotoSetting,
  tick: (stage: PhotoStage) => void,
): Traced {
  const { width, height, ink, share } = crop
  const widest = photo.widest_line_mm / mm
  const depth = inkDepth(ink, width, height, 2 * widest + 4)
  const filled = findFilledShapes(share, below, ink, depth, width, height, widest)
  const thin = thinInk(depth, width)
  for (let at = 0; at < thin.length; at += 1)
    if (filled.mask[at] === 1 && (depth[at] as number) > 3) thin[at] = 0
  tick('thin')
  const graph = strokesOf(thin, depth, width)
  const indexOf = (x: number, y: number): number => Math.floor(y) * width + Math.floor(x)
  for (const stroke of graph.strokes) {
    let isInside = true
    for (let k = 0; k < stroke.points.length && isInside; k += 2)
      isInside = filled.mask[indexOf(stroke.points[k] as number, stroke.points[k + 1] as number)] === 1
    if (isInside) graph.remove(stroke)
  }
  tidyStrokes(graph)
  let dots = 0
  for (const stroke of [...graph.strokes]) {
    const { from, to } = stroke
    if (from === null || to === null || graph.degree(from) !== 1 || graph.degree(to) !== 1) continue
    if (lengthOf(stroke.points) > Math.max(from.depth, to.depth)) continue
    graph.remove(stroke)
    dots += 1
  }
  const { joined, loose } = joinGaps(
    graph,
    photo.join_mm / mm,
    Math.max(1.5 * photo.join_mm, NEARLY_MM) / mm,
    {
      depthAt: (x, y) => depth[indexOf(x, y)] ?? 0,
      paperBetween: (ax, ay, bx, by) => {
        const long = Math.hypot(bx - ax, by - ay)
        const steps = Math.max(1, Math.ceil(long * 2))
        let bare = 0
        for (let k = 0; k < steps; k += 1) {
          const t = (k + 0.5) / steps
          if (ink[indexOf(ax + (bx - ax) * t, ay + (by - ay) * t)] !== 1) bare += 1
        }
        return (bare / steps) * long
      },
    },
    (knot) => filled.mask[indexOf(knot.x, knot.y)] !== 1,
  )
  const bare = setApartSketchLines(graph, loose)
  tick('strokes')
  const facts = refineStrokes(graph, { share, width, height, depth })
  refineStrokes(bare, { share, width, height, depth })
  tick('centre')
  return { graph, shapes: filled.shapes, joined, loose, bare, facts, dots, left: crop.left, top: crop.top }
}

/** An end this near other ink is asked about even where smaller gaps are joined. */
const NEARLY_MM = 1
/** A stroke this nearly straight, standing alone, is a vein or a sketch line and no part of an outline. */
const STRAIGHT = 0.9

/** Takes away strokes that stand alone, run nearly straight and end far from other ink, into a graph of their own. */
function setApartSketchLines(graph: StrokeGraph, loose: readonly LooseEnd[]): StrokeGraph {
  const alone = new Set(loose.filter(({ nearest }) => nearest === Infinity).map(({ knot }) => knot))
  const apart = new StrokeGraph()
  for (const stroke of [...graph.strokes]) {
    const { from, to, points } = stroke
    if (from === null || to === null || !alone.has(from) || !alone.has(to)) continue
    if (Math.hypot(to.x - from.x, to.y - from.y) < STRAIGHT * lengthOf(points)) continue
    graph.remove(stroke)
    apart.add(stroke)
  }
  return apart
}

/** Points of a trace nearer than this to the line between their neighbours say nothing. */
const THIN_OUT_MM = 0.006

function marksOf(
  traced: Traced,
  mm: number,
  speck_mm2: number,
  place: (x: number, y: number) => Place,
): Mark[] {
  const off = THIN_OUT_MM / mm
  const inMillimetres = (points: readonly number[]): Float64Array => {
    const out = new Float64Array(points.length)
    for (let k = 0; k < points.length; k += 2) out.set(place(points[k] as number, points[k + 1] as number), k)
    return out
  }
  const marksOfStrokes = (graph: StrokeGraph): Omit<Mark, 'id'>[] =>
    [...graph.strokes].map(({ points, from }) => ({
      runs: [{ points: inMillimetres(thinOut(points, off, from === null)), closed: from === null }],
      line: true,
    }))
  const strokes = marksOfStrokes(traced.graph)
  const shapes = traced.shapes
    .map((rings) => rings.filter((ring) => Math.abs(signedArea(ring)) * mm * mm >= speck_mm2))
    .filter((rings) => rings.length > 0)
    .map((rings) => ({
      runs: rings.map((ring) => ({ points: inMillimetres(thinOut(ring, off, true)), closed: true })),
      fill: { rule: 'evenodd', colour: 'ink' } as const,
      line: false,
    }))
  const inOrder = [strokes, shapes].flatMap((group) => inReadingOrder(group, (mark) => mark.runs[0]?.points))
  const veins = inReadingOrder(marksOfStrokes(traced.bare), (mark) => mark.runs[0]?.points)
  return [
    ...inOrder.map((mark, k) => ({ id: `trace-${k + 1}`, ...mark })),
    ...veins.map((mark, k) => ({ id: `vein-${k + 1}`, ...mark, vein: true as const })),
  ]
}

const SMALL_PX = 900

function smallCopy({ width, height, data, mm }: FlatSheet): NonNullable<PhotoTrace['flattened']> {
  const step = Math.max(1, Math.ceil(Math.max(width, height) / SMALL_PX))
  const [across, down] = [Math.floor(width / step), Math.floor(height / step)]
  const small = new Uint8Array(across * down)
  for (let y = 0; y < down; y += 1)
    for (let x = 0; x < across; x += 1) {
      let sum = 0
      for (let v = 0; v < step; v += 1)
        for (let u = 0; u < step; u += 1) sum += data[(y * step + v) * width + x * step + u] as number
      small[y * across + x] = sum / (step * step)
    }
  return { width: across, height: down, data: small, mm_per_px: mm * step }
}
