import ArrayList from 'jsts/java/util/ArrayList.js'
import Coordinate from 'jsts/org/locationtech/jts/geom/Coordinate.js'
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js'
import PrecisionModel from 'jsts/org/locationtech/jts/geom/PrecisionModel.js'
import InteriorIntersectionFinderAdder from 'jsts/org/locationtech/jts/noding/InteriorIntersectionFinderAdder.js'
import NodedSegmentString from 'jsts/org/locationtech/jts/noding/NodedSegmentString.js'
import MCIndexSnapRounder from 'jsts/org/locationtech/jts/noding/snapround/MCIndexSnapRounder.js'
import Polygonizer from 'jsts/org/locationtech/jts/operation/polygonize/Polygonizer.js'

// The topology library speaks in its own classes without types; they stay inside this file.

interface Coordinates {
  readonly length: number
  readonly [index: number]: { readonly x: number; readonly y: number }
}

/** Lines that cross oftener would take minutes to divide. */
const CROSSINGS_AT_MOST = 30_000
/** Runs are handed over in stretches, so that curves that lie about one another are not compared whole. */
const STRETCH = 48
/** Thrown where lines cannot be divided; nothing else is thrown from here. */
export class TooTangled extends Error {}

/** The library throws errors of its own where its arithmetic fails it. */
const orTangled = <T>(work: () => T): T => {
  try {
    return work()
  } catch {
    throw new TooTangled()
  }
}

/** A piece of one drawn run between two nodes, in whole steps of the grid. */
export interface Piece {
  /** index of the run it comes from */
  readonly run: number
  readonly path: Float64Array
}

const flat = (coordinates: Coordinates): Float64Array => {
  const path = new Float64Array(coordinates.length * 2)
  for (let i = 0; i < coordinates.length; i += 1) {
    const point = coordinates[i] as Coordinates[number]
    path[2 * i] = point.x
    path[2 * i + 1] = point.y
  }
  return path
}

const spread = (path: Float64Array): unknown[] => {
  const coordinates: unknown[] = []
  for (let i = 0; i < path.length; i += 2) coordinates.push(new Coordinate(path[i], path[i + 1]))
  return coordinates
}

/**
 * Cuts paths on a whole-number grid wherever they meet, by snap rounding: afterwards two pieces share nothing
 * but ends, or are the same piece. Pieces come in the order of the runs and along each run.
 */
export const cutWhereTheyMeet = (paths: readonly Float64Array[]): Piece[] =>
  orTangled(() => {
    const strings = new ArrayList([])
    paths.forEach((path, run) => {
      for (let from = 0; from < path.length - 2; from += 2 * STRETCH)
        strings.add(new NodedSegmentString(spread(path.subarray(from, from + 2 * STRETCH + 2)), run))
    })
    const noder = new MCIndexSnapRounder(new PrecisionModel(1))
    noder.findInteriorIntersections = (segments: unknown, intersector: unknown) => {
      const finder = new InteriorIntersectionFinderAdder(intersector)
      const look = finder.processIntersections.bind(finder)
      finder.processIntersections = (...pair: [unknown, unknown, unknown, unknown]) => {
        look(...pair)
        if (finder.getInteriorIntersections().size() > CROSSINGS_AT_MOST) throw new TooTangled()
      }
      noder._noder.setSegmentIntersector(finder)
      noder._noder.computeNodes(segments)
      return finder.getInteriorIntersections()
    }
    noder.computeNodes(strings)
    return (noder.getNodedSubstrings().array as { getData(): number; getCoordinates(): Coordinates }[]).map(
      (string) => ({ run: string.getData(), path: flat(string.getCoordinates()) }),
    )
  })

interface Ring {
  getCoordinates(): Coordinates
}
interface Polygon {
  getExteriorRing(): Ring
  getNumInteriorRing(): number
  getInteriorRingN(index: number): Ring
}

/** The bounded faces between paths that share nothing but ends. Paths with a free end bound none. */
export const facesBetween = (paths: readonly Float64Array[]): Float64Array[][] =>
  orTangled(() => {
    const factory = new GeometryFactory()
    const polygonizer = new Polygonizer()
    // Its own check of each ring costs as much as finding them all, and paths cut where they meet pass it.
    polygonizer.setCheckRingsValid(false)
    for (const path of paths) polygonizer.add(factory.createLineString(spread(path)))
    const loopOf = (ring: Ring): Float64Array => flat(ring.getCoordinates()).slice(0, -2)
    return (polygonizer.getPolygons().array as Polygon[]).map((polygon) => [
      loopOf(polygon.getExteriorRing()),
      ...Array.from({ length: polygon.getNumInteriorRing() }, (_, n) => loopOf(polygon.getInteriorRingN(n))),
    ])
  })
