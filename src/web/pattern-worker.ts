import type { Heights } from '../engine/documents/heights.ts'
import { type CastableFindings, findCastable } from '../engine/pattern/castable/index.ts'
import { castRegions, reliefToCast } from '../engine/pattern/filing.ts'
import { isPicture } from '../engine/pattern/is-picture.ts'
import type { Picture } from '../engine/pattern/photo/index.ts'
import {
  divideMarks,
  factsOfPattern,
  factsWithoutSolid,
  isBuildable,
  type MarksDivided,
  type MarksRead,
  type PatternReading,
  readMarks,
  tellReading,
  unitsUnsaid,
} from '../engine/pattern/read-pattern.ts'
import type { Relief } from '../engine/pattern/relief/index.ts'
import type { ReliefSolids } from '../engine/pattern/solids.ts'
import type { MeshFacts } from '../engine/piece/mesh-facts.ts'
import { loadReliefSolids } from '../solids/relief-solids.ts'
import { decodeHere } from './decode-here.ts'
import { edgesOf, type ReliefEdges } from './scene/relief-edges.ts'

export interface DrawingFile {
  readonly sha256: string
  readonly file: string
}

export type PatternQuestion =
  | { readonly do: 'shape'; readonly drawing: DrawingFile; readonly heights: Heights }
  | {
      readonly do: 'measure'
      readonly reading: PatternReading
      readonly relief: Relief
      readonly heights: Heights
    }

/** What is asked of the worker; every answer carries the number of its question. */
export interface PatternAsk {
  readonly ask: number
  readonly question: PatternQuestion
}

export type PatternAnswer =
  | {
      readonly is: 'read'
      readonly reading: PatternReading
      readonly took_ms: number
    }
  | {
      readonly is: 'shape'
      readonly relief: Relief
      /** to be drawn; worked out here, so that the page stays free while a height is dragged */
      readonly edges: ReliefEdges
      /** without the thickness of walls, which takes longer */
      readonly facts: MeshFacts
      readonly took_ms: number
    }
  | {
      readonly is: 'facts'
      readonly facts: MeshFacts
      readonly castable?: CastableFindings
      readonly took_ms: number
    }
  | { readonly is: 'failed'; readonly what: string }

export interface PatternTold {
  readonly ask: number
  readonly answer: PatternAnswer
}

interface Decoded {
  readonly bytes: Uint8Array
  readonly picture?: Picture
}

const decode = async (bytes: Uint8Array): Promise<Decoded> =>
  isPicture(bytes) ? { bytes, picture: await decodeHere(bytes) } : { bytes }

/** Only the last drawing is kept: a picture of 12 million pixels takes 48 MB. */
let held: { readonly sha256: string; readonly decoded: Promise<Decoded> } | undefined

const decodedOf = ({ sha256 }: DrawingFile): Promise<Decoded> => {
  if (held?.sha256 !== sha256)
    held = {
      sha256,
      decoded: fetch(`/api/models/${sha256}`).then(async (response) => {
        if (!response.ok) throw new Error('its bytes are not here; bring the file again')
        return decode(new Uint8Array(await response.arrayBuffer()))
      }),
    }
  const { decoded } = held
  // what failed is tried again when it is next asked for
  decoded.catch(() => {
    if (held?.decoded === decoded) held = undefined
  })
  return decoded
}

interface Kept<T> {
  readonly key: string
  readonly value: T
}

let lastMarks: Kept<MarksRead> | undefined
let lastDivided: Kept<MarksDivided> | undefined

/**
 * Reads as little again as a change asks for: a height reads nothing, a correction traces nothing. The relief
 * keeps its faces as long as it is handed the same regions.
 */
const readingOf = async (drawing: DrawingFile, heights: Heights): Promise<PatternReading> => {
  const { units, join_mm, photo, corrections } = heights
  const marksKey = JSON.stringify([drawing, units, join_mm, photo])
  if (lastMarks?.key !== marksKey) {
    const { bytes, picture } = await decodedOf(drawing)
    lastMarks = { key: marksKey, value: readMarks({ bytes, name: drawing.file, heights, picture }) }
  }
  const read = lastMarks.value
  const dividedKey = `${marksKey}${JSON.stringify(corrections)}`
  if (lastDivided?.key !== dividedKey) lastDivided = { key: dividedKey, value: divideMarks(read, heights) }
  return tellReading(read, lastDivided.value, heights)
}

let solids: Promise<ReliefSolids> | undefined
const theSolids = (): Promise<ReliefSolids> => {
  solids ??= loadReliefSolids().catch((trouble: unknown) => {
    // asked for again with the next drawing: a file that once failed to come may come then
    solids = undefined
    throw trouble
  })
  return solids
}

const tell = (ask: number, answer: PatternAnswer): void =>
  postMessage({ ask, answer } satisfies PatternTold, { transfer: handedOver(answer) })

/** The lines to draw are new with every shape and nobody here wants them again, so they go over without a copy. */
const handedOver = (answer: PatternAnswer): Transferable[] => {
  if (answer.is !== 'shape') return []
  const { ends, one, other, crease } = answer.edges
  return [ends, one, other, crease].map(({ buffer }) => buffer as ArrayBuffer)
}

/** A page asks for the unit: until it is said, the shape is shown and weighs nothing. */
const told = (reading: PatternReading, heights: Heights, facts: MeshFacts): MeshFacts => {
  const unsaid = unitsUnsaid(reading, heights)
  if (unsaid === undefined) return facts
  const { what, where, remedy } = unsaid
  return {
    ...facts,
    volume_mm3: null,
    area_mm2: null,
    bounds_mm: null,
    problems: [{ what, where, remedy }, ...facts.problems],
  }
}

const work = async ({ ask, question }: PatternAsk): Promise<void> => {
  const began = performance.now()
  const took = (): number => performance.now() - began
  if (question.do === 'measure') {
    const { reading, relief, heights } = question
    const castable = findCastable(relief, castRegions(reading.regions.regions, heights).regions, heights)
    tell(ask, {
      is: 'facts',
      facts: told(reading, heights, factsOfPattern(reading, relief, castable)),
      castable,
      took_ms: took(),
    })
    return
  }
  const reading = await readingOf(question.drawing, question.heights)
  tell(ask, { is: 'read', reading, took_ms: took() })
  if (!isBuildable(reading)) {
    tell(ask, { is: 'facts', facts: factsWithoutSolid(reading), took_ms: took() })
    return
  }
  const relief = reliefToCast(
    reading.regions.regions,
    question.heights,
    await theSolids(),
    reading.drawing.outlineSpread_mm,
  )
  tell(ask, {
    is: 'shape',
    relief,
    edges: edgesOf(relief.mesh),
    facts: told(reading, question.heights, factsOfPattern(reading, relief)),
    took_ms: took(),
  })
}

addEventListener('message', ({ data }: MessageEvent<PatternAsk>): void => {
  work(data).catch((trouble: unknown) =>
    tell(data.ask, { is: 'failed', what: trouble instanceof Error ? trouble.message : String(trouble) }),
  )
})
