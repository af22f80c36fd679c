import type { Heights, RegionEdge, RegionHeight } from '../../documents/index.ts'
import { findEdges, findShells, isClosed } from '../../piece/mesh/edges.ts'
import { areaOf, type Bounds, boundsOf, type TriangleMesh, volumeOf } from '../../piece/mesh/index.ts'
import type { PatternProblem, Region } from '../drawing.ts'
import { heightOf } from '../height-of.ts'
import type { ReliefSolids, SolidShop } from '../solids.ts'
import { capOf, layHeightField, type Standing } from './height-field.ts'
import { reliefProblems, seatProblems } from './problems.ts'
import { netOf } from './shared-lines.ts'
import {
  type Body,
  bodyOfMesh,
  bodyOfSolid,
  cutSeats,
  type Front,
  seatsOf,
  type Tall,
  workBack,
} from './work-solid.ts'

/** A region as it was built. */
export interface BuiltRegion {
  readonly id: string
  readonly role: RegionHeight['role']
  /** from the back plane before any bending; 0 where cut through */
  readonly height_mm: number
}

/** The solid of a drawing. Millimetres; the flat back lies at z = 0, the front looks up z. */
export interface Relief {
  readonly mesh: TriangleMesh
  /** on a curved back: the same before bending, where places of the drawing lie under themselves, without hardware */
  readonly unbent?: TriangleMesh
  readonly volume_mm3: number
  readonly area_mm2: number
  /** every edge of the mesh has exactly two faces, and there is a mesh */
  readonly closed: boolean
  readonly bounds_mm: Bounds | null
  readonly regions: readonly BuiltRegion[]
  /** seen from above, all that has a height: a cut this much off in height moves the volume by area times error */
  readonly planArea_mm2: number
  /** length of each line times the step across it: an outline this much off moves the volume by area times error */
  readonly rimArea_mm2: number
  /** of that volume, what was left round the outline for the file; absent where nothing was */
  readonly filed_mm3?: number
  readonly problems: readonly PatternProblem[]
}

const SQUARE: RegionEdge = { shape: 'square' }
/** An edge that reaches this share of its width has had its room. */
const NEARLY_ALL = 0.98

/**
 * Builds the solid of regions at their heights. A region without an entry stands at the blank's thickness.
 * Kept between calls, as long as the same `regions` array is handed in: the shared points of all lines, and by
 * region its triangulated outline and worked edge. A change of one height so lays no face anew, a change of one
 * edge only that region's. Never throws for what a drawing or its heights can hold.
 * @param solids the modeller that cuts, joins and bends; a face brings one
 * @param outlineSpread_mm standard uncertainty of where an outline lies
 * @param finished the same regions as they are when finished, where more is cast round them: stones, the hollow and
 *   the bend go by these
 */
export const buildRelief = (
  regions: readonly Region[],
  heights: Heights,
  solids: ReliefSolids,
  outlineSpread_mm = 0,
  finished: readonly Region[] = regions,
): Relief => {
  const problems: PatternProblem[] = []
  const wanted = regions.map(({ id }): RegionHeight => heightOf(heights, id))
  const net = netOf(regions)
  const standing = wanted.map((height, index): Standing | undefined =>
    height.role === 'through' ? undefined : standingOf(height, regions[index] as Region, problems),
  )
  const shared = {
    regions: wanted.map((height, index) => ({
      id: (regions[index] as Region).id,
      role: height.role,
      height_mm: height.role === 'through' ? 0 : height.height_mm,
    })),
    planArea_mm2: regions.reduce((sum, { area_mm2 }, index) => sum + (standing[index] ? area_mm2 : 0), 0),
    rimArea_mm2: rimAreaOf(net, standing),
  }
  if (!standing.some((region) => region)) {
    problems.push(reliefProblems.nothingStands())
    return { ...shared, ...NOTHING, problems }
  }
  try {
    return solids.work((shop) => {
      const seats = seatsOf(shop, finished, wanted, outlineSpread_mm)
      for (const { plan } of seats) problems.push(...plan.problems)
      problems.push(...levelSeats(regions, wanted, net))
      const laid = standing.map((region, index): Standing | undefined => {
        const seat = seats.find((one) => one.index === index)
        return region && seat?.laid ? { ...region, seat: seat.laid } : region
      })
      const frontOn = (face: readonly Region[], found: PatternProblem[]): Front =>
        cutSeats(shop, finished, wanted, seats, layBase(shop, face, netOf(face), laid, found))
      const front = frontOn(regions, problems)
      const within = finished === regions ? front : frontOn(finished, [])
      const { body, unbent } = workBack({ shop, regions: finished, heights, front, within, problems })
      const planArea_mm2 = shared.planArea_mm2 - front.throughArea_mm2
      return { ...shared, planArea_mm2, ...measure(shop, body, problems), ...(unbent && { unbent }) }
    })
  } catch (trouble) {
    // The modeller throws for what it cannot close; a drawing may hold such things.
    problems.push(reliefProblems.notSolid(whyNot(trouble)))
    return { ...shared, ...NOTHING, problems }
  }
}

const NOTHING = {
  mesh: { positions: new Float64Array(0), corners: new Uint32Array(0) },
  volume_mm3: 0,
  area_mm2: 0,
  closed: false,
  bounds_mm: null,
} as const

const standingOf = (height: Tall, { id, at_mm }: Region, problems: PatternProblem[]): Standing => {
  const { height_mm } = height
  const edge = height.role === 'seat' ? SQUARE : (height.edge ?? SQUARE)
  if (edge.shape === 'square' || edge.height_mm < height_mm) return { height_mm, edge }
  if (edge.height_mm > height_mm)
    problems.push(reliefProblems.edgeTooTall(id, edge.height_mm, height_mm, at_mm))
  return { height_mm, edge: { ...edge, height_mm } }
}

/** The body under all regions, from the flat back up. */
const layBase = (
  shop: SolidShop,
  regions: readonly Region[],
  net: ReturnType<typeof netOf>,
  standing: readonly (Standing | undefined)[],
  problems: PatternProblem[],
): Body => {
  const mesh = layHeightField(shop, net, standing)
  sayNarrowEdges(shop, regions, net, standing, problems)
  const edges = mesh && findEdges(mesh)
  if (mesh && edges && isClosed(edges)) return bodyOfMesh(shop, mesh, edges)
  // Outlines that cross leave a mesh that is not closed: blocks joined by the modeller still are.
  problems.push(reliefProblems.edgesLeftOut())
  return bodyOfSolid(
    shop.union(
      standing.flatMap((region, index) => {
        const { outer, holes } = regions[index] as Region
        return region ? [shop.prism([outer, ...holes], 0, region.height_mm)] : []
      }),
    ),
  )
}

const sayNarrowEdges = (
  shop: SolidShop,
  regions: readonly Region[],
  net: ReturnType<typeof netOf>,
  standing: readonly (Standing | undefined)[],
  problems: PatternProblem[],
): void =>
  standing.forEach((region, index) => {
    if (!region || (region.edge.shape === 'square' && !region.seat)) return
    const { id, at_mm } = regions[index] as Region
    const cap = capOf(shop, net, index, region)
    if (region.seat) {
      if (cap?.inner.length === 0) problems.push(reliefProblems.seatNotWorked(id, at_mm))
      return
    }
    if (region.edge.shape === 'square') return
    if (cap?.reached_mm === 0) problems.push(reliefProblems.edgeNotWorked(id, at_mm))
    else if (cap && cap.reached_mm < NEARLY_ALL * region.edge.width_mm)
      problems.push(reliefProblems.edgeTooWide(id, region.edge.width_mm, cap.reached_mm, at_mm))
  })

/** A ledge this much below its neighbour holds a stone's edge; less is a scratch. */
const SUNK_MM = 0.2

/** Seats for a stone that lie no lower than any region beside them, and have no wall of their own. */
const levelSeats = (
  regions: readonly Region[],
  wanted: readonly RegionHeight[],
  { xy, leftOf }: ReturnType<typeof netOf>,
): PatternProblem[] => {
  const count = xy.length / 2
  const highest = new Map<number, number>()
  for (const [key, region] of leftOf) {
    const seat = wanted[region]
    if (seat?.role !== 'seat' || seat.stone === undefined || seat.stone.wall !== undefined) continue
    const from = Math.floor(key / count)
    const beside = wanted[leftOf.get((key - from * count) * count + from) ?? -1]
    // alone it stands on purpose
    if (beside === undefined || beside.role === 'through') continue
    const height = beside.height_mm + (beside.role === 'seat' ? (beside.stone?.wall?.height_mm ?? 0) : 0)
    highest.set(region, Math.max(highest.get(region) ?? 0, height))
  }
  return [...highest].flatMap(([index, height]) => {
    const [region, seat] = [regions[index], wanted[index]]
    return region === undefined || seat?.role !== 'seat' || height >= seat.height_mm + SUNK_MM
      ? []
      : [seatProblems.seatLevel(region.id, region.at_mm)]
  })
}

const measure = (
  shop: SolidShop,
  body: Body,
  problems: PatternProblem[],
): Pick<Relief, 'mesh' | 'volume_mm3' | 'area_mm2' | 'closed' | 'bounds_mm' | 'problems'> => {
  const mesh = body.mesh ?? shop.mesh(body.solid())
  const edges = body.edges ?? findEdges(mesh)
  const closed = mesh.corners.length > 0 && isClosed(edges)
  const bodies = closed ? findShells(edges).count : 0
  if (bodies > 1) problems.push(reliefProblems.looseParts(bodies))
  return {
    mesh,
    volume_mm3: body.mesh ? volumeOf(mesh) : shop.volume_mm3(body.solid()),
    area_mm2: body.mesh ? areaOf(mesh) : shop.area_mm2(body.solid()),
    closed,
    bounds_mm: closed ? boundsOf(mesh) : null,
    problems,
  }
}

const rimAreaOf = (
  { xy, leftOf }: ReturnType<typeof netOf>,
  standing: readonly (Standing | undefined)[],
): number => {
  const count = xy.length / 2
  const heightAt = (region: number | undefined): number =>
    region === undefined ? 0 : (standing[region]?.height_mm ?? 0)
  let area = 0
  for (const [key, region] of leftOf) {
    const from = Math.floor(key / count)
    const to = key - from * count
    const step = heightAt(region) - heightAt(leftOf.get(to * count + from))
    if (step <= 0) continue
    area +=
      step *
      Math.hypot(
        (xy[to * 2] as number) - (xy[from * 2] as number),
        (xy[to * 2 + 1] as number) - (xy[from * 2 + 1] as number),
      )
  }
  return area
}

/** A drawing too fine for the memory ends in the words of the machine, which say nothing of the drawing. */
const whyNot = (trouble: unknown): string =>
  trouble instanceof RangeError
    ? 'its outlines have more nodes than can be worked; simplify them'
    : trouble instanceof Error
      ? trouble.message
      : String(trouble)
