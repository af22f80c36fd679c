/**
 * What can be wrong with a model file, each with its words in one place.
 * `stop`: no weight is given until a shown repair is accepted, or at all.
 * `check`: measured, but something was decided for the user. `note`: worth knowing.
 */
export type ProblemLevel = 'note' | 'check' | 'stop'

export type MeshProblem = {
  kind: string
  level: ProblemLevel
  /** What is wrong, in plain words. */
  what: string
  /** Where: bytes, line, triangle, or a place in millimetres. */
  where: string
  /** What to do about it. */
  remedy: string
}

export type Point = readonly [number, number, number]

const whole = (n: number): string => Math.round(n).toLocaleString('en-US')
const length = (n: number): string => (n === 0 ? '0' : Number(n.toPrecision(4)).toString())
const counted = (n: number, one: string, many = `${one}s`): string => `${whole(n)} ${n === 1 ? one : many}`
const near = (p: Point | null): string =>
  p ? `near x ${length(p[0])}, y ${length(p[1])}, z ${length(p[2])} mm` : 'in the whole model'
const stop = (kind: string, what: string, where: string, remedy: string): MeshProblem => ({
  kind,
  level: 'stop',
  what,
  where,
  remedy,
})
const check = (kind: string, what: string, where: string, remedy: string): MeshProblem => ({
  kind,
  level: 'check',
  what,
  where,
  remedy,
})
const note = (kind: string, what: string, where: string, remedy: string): MeshProblem => ({
  kind,
  level: 'note',
  what,
  where,
  remedy,
})

const orAccept = (mendable: boolean): string =>
  mendable ? ', or look at the repair shown and accept it' : ''
const exportAgain = 'export the model again and check that the copy finished'

/** Trouble found while the file is read. */
export const fileProblems = {
  empty: () => stop('empty-file', 'the file is empty', 'the whole file', exportAgain),
  unknownFormat: (name: string) =>
    stop(
      'unknown-format',
      `${name || 'the file'} is not a model that can be read here`,
      'the start of the file',
      'export it as STL, OBJ, PLY, 3MF or GLB',
    ),
  endsEarly: (have: number, need: number) =>
    stop('ends-early', 'the file ends early', `bytes ${whole(have)} of ${whole(need)}`, exportAgain),
  endsEarlyText: (line: number, missing: string) =>
    stop('ends-early', `the file ends early: ${missing}`, `line ${whole(line)}`, exportAgain),
  endsEarlyBy: (missing: string, where: string) =>
    stop('ends-early', `the file ends early: ${missing}`, where, exportAgain),
  absurdCount: (what: string, claimed: number, room: number) =>
    stop(
      'absurd-count',
      `the file claims ${whole(claimed)} ${what}, but has room for ${whole(room)} at most`,
      'the head of the file',
      exportAgain,
    ),
  tooMany: (what: string, count: number, limit: number) =>
    stop(
      'too-large',
      `${whole(count)} ${what} are more than the ${whole(limit)} that are read`,
      'the whole file',
      'export a coarser model: a chord error of 0.01 mm is ample for casting',
    ),
  leftOver: (extra: number, used: number) =>
    check(
      'bytes-left-over',
      `${counted(extra, 'byte')} after the last counted triangle were left unread`,
      `after byte ${whole(used)}`,
      'if part of the model is missing in the picture, export it again',
    ),
  notFinite: (count: number, where: string) =>
    stop(
      'not-a-number',
      `${counted(count, 'coordinate')} ${count === 1 ? 'is' : 'are'} not a finite number`,
      where,
      'export the model again; if it stays, repair it in the program that drew it',
    ),
  malformed: (what: string, where: string) => stop('malformed', what, where, exportAgain),
  indexOutOfRange: (index: number, count: number, where: string) =>
    stop(
      'index-out-of-range',
      `a face names corner ${index}, but the file has ${counted(count, 'corner')}`,
      where,
      'export the model again; if it stays, repair it in the program that drew it',
    ),
  noTriangles: (what: string) =>
    stop('no-triangles', what, 'the whole file', 'export the solid itself as a triangle mesh'),
  notRead: (what: string, where: string, remedy: string) => stop('not-read', what, where, remedy),
  refused: (what: string, where: string, remedy: string) => stop('refused', what, where, remedy),
  skipped: (what: string, where: string, remedy: string) => note('skipped', what, where, remedy),
  emptyBuild: () =>
    stop(
      'no-build',
      'the file holds objects but places none of them to be built',
      'its build list',
      'put the objects on the plate in the program that drew them, then export again',
    ),
} as const

/** Trouble with the size of things. */
export const unitProblems = {
  assumed: (extents: Point) =>
    note(
      'units-assumed',
      `the file names no unit: millimetres were assumed, so it is ${extents.map(length).join(' x ')} mm`,
      'the whole file',
      'if it was drawn in inches, say so: units in',
    ),
  tiny: (largest: number) =>
    check(
      'size-doubtful',
      `the model is only ${length(largest)} mm at its largest; in inches it would be ${length(largest * 25.4)} mm`,
      'the whole file',
      'check the unit it was drawn in',
    ),
  huge: (largest: number, unit: string) =>
    check(
      'size-doubtful',
      `the model is ${length(largest)} mm at its largest, more than any small flask holds`,
      'the whole file',
      unit === 'm'
        ? 'GLB counts in metres; if the program that drew it wrote millimetres instead, export it as 3MF or STL'
        : unit === 'in'
          ? 'check whether it was really drawn in inches'
          : 'check the unit it was drawn in',
    ),
  fileKnows: (unit: string) =>
    check(
      'units-in-file',
      `the file itself says that its unit is ${unit}; the unit asked for was not used`,
      'the whole file',
      'to change its size, export it again in the right unit',
    ),
} as const

/** Trouble with the surface. */
export const surfaceProblems = {
  open: (edges: number, loops: number, longest_mm: number, at: Point | null, mendable: boolean) =>
    stop(
      'open',
      `the surface is open: ${counted(edges, 'edge')} ${edges === 1 ? 'has' : 'have'} a triangle on one side only, round ${counted(loops, 'hole')}, the longest rim ${length(longest_mm)} mm`,
      near(at),
      `close it in the program that drew it${orAccept(mendable)}`,
    ),
  partlyFlipped: (triangles: number, edges: number, at: Point | null, mendable: boolean) =>
    stop(
      'partly-flipped',
      `${counted(triangles, 'triangle')} ${triangles === 1 ? 'faces' : 'face'} the wrong way (${counted(edges, 'edge')} run twice in one direction)`,
      near(at),
      `make the normals consistent in the program that drew it${orAccept(mendable)}`,
    ),
  oneSided: (at: Point | null) =>
    stop(
      'one-sided',
      'the surface has no inside: following it round brings one back on its other side',
      near(at),
      'draw the part again as a closed solid',
    ),
  tangled: (edges: number, at: Point | null, mendable: boolean) =>
    stop(
      'tangled-edges',
      `${counted(edges, 'edge')} ${edges === 1 ? 'is' : 'are'} shared by a number of triangles that cannot be paired`,
      near(at),
      `remove doubled or inner faces in the program that drew it${orAccept(mendable)}`,
    ),
  sharedByMany: (edges: number, at: Point | null) =>
    check(
      'edges-shared-by-many',
      `four or more triangles meet along ${counted(edges, 'edge')}; they were read as bodies that only touch there`,
      near(at),
      'join or part the bodies in the program that drew them: metal that thin would not fill',
    ),
  duplicates: (count: number, at: Point | null) =>
    note(
      'doubled-triangles',
      `${counted(count, 'triangle')} ${count === 1 ? 'lies' : 'lie'} exactly on another`,
      near(at),
      'remove doubled faces in the program that drew it',
    ),
  collapsed: (count: number) =>
    note(
      'collapsed-triangles',
      `${counted(count, 'triangle')} without area ${count === 1 ? 'was' : 'were'} left out; this changes neither volume nor closedness`,
      'in the whole model',
      'nothing need be done',
    ),
  joined: (count: number, tolerance_mm: number) =>
    note(
      'corners-joined',
      `${counted(count, 'corner')} lay apart by rounding and ${count === 1 ? 'was' : 'were'} joined within ${length(tolerance_mm)} mm`,
      'in the whole model',
      'nothing need be done',
    ),
  selfCrossing: (pairs: number, atLeast: boolean, at: Point | null) =>
    stop(
      'self-crossing',
      `the surface passes through itself (${atLeast ? 'at least ' : ''}${counted(pairs, 'pair')} of triangles cross)`,
      near(at),
      'join its parts into one solid in the program that drew it (a union), then export again',
    ),
  smallFolds: (pairs: number, length_mm: number, at: Point | null) =>
    note(
      'small-folds',
      `${counted(pairs, 'pair')} of triangles ${pairs === 1 ? 'crosses' : 'cross'} over ${length(length_mm)} mm in all: a fold too small to weigh`,
      near(at),
      'nothing need be done',
    ),
  selfOverlap: (share: number, at: Point | null) =>
    stop(
      'self-crossing',
      `the surface encloses some of its space twice or inside out (${length(share * 100)} % of the points tried)`,
      near(at),
      'join its parts into one solid in the program that drew it (a union), then export again',
    ),
  crossingsNotSought: (triangles: number) =>
    check(
      'crossings-not-sought',
      `whether the surface passes through itself was not looked into to the end: ${whole(triangles)} triangles are too many here`,
      'in the whole model',
      'look for crossing parts in the program that drew it, or export a coarser model',
    ),
  inverted: (bodies: number, of: number) =>
    check(
      'inverted',
      of === 1
        ? 'the whole surface faces inward; it was turned the right way out to be measured'
        : `${whole(bodies)} of ${counted(of, 'shell')} ${bodies === 1 ? 'faces' : 'face'} inward and ${bodies === 1 ? 'was' : 'were'} turned the right way out`,
      'in the whole model',
      'reverse the normals in the program that drew it',
    ),
  cavity: (count: number, volume_mm3: number, at: Point | null) =>
    note(
      'cavity',
      `${counted(count, 'hollow')} inside the metal (${length(volume_mm3)} mm3) ${count === 1 ? 'was' : 'were'} taken off the volume`,
      near(at),
      'a closed hollow cannot be invested or cast: open it, or fill it',
    ),
  bodyInBody: (count: number, at: Point | null) =>
    check(
      'overlapping-shells',
      `${counted(count, 'shell')} ${count === 1 ? 'lies' : 'lie'} wholly inside another body; the space was counted once`,
      near(at),
      'if it was meant as a hollow, reverse its normals; otherwise join the bodies (a union)',
    ),
  overlapping: (count: number, sum_mm3: number, union_mm3: number, at: Point | null) =>
    check(
      'overlapping-shells',
      `${counted(count, 'closed shell')} overlap: their union is ${length(union_mm3)} mm3, added up they would be ${length(sum_mm3)} mm3`,
      near(at),
      'join them into one solid in the program that drew them (a union)',
    ),
  overlapNotMeasured: (count: number, why: string, at: Point | null) =>
    stop(
      'overlapping-shells',
      `${counted(count, 'closed shell')} overlap, and their union could not be measured: ${why}`,
      near(at),
      'join them into one solid in the program that drew them (a union), then export again',
    ),
  crossingHollow: (at: Point | null) =>
    stop(
      'overlapping-shells',
      'a shell that faces inward crosses one that faces outward, so it is not clear whether to add it or take it off',
      near(at),
      'turn the shells the right way out, or cut the one from the other, in the program that drew them',
    ),
  repaired: (steps: readonly string[], patchShare: number) =>
    check(
      'repaired',
      `measured after the accepted repair: ${steps.join('; ')}${patchShare > 0.05 ? `; the patches are ${length(patchShare * 100)} % of the surface` : ''}`,
      'in the whole model',
      'mend it in the program that drew it before the model is printed or milled',
    ),
  noVolume: () =>
    stop(
      'no-volume',
      'the surface encloses no volume',
      'in the whole model',
      'thicken it into a solid in the program that drew it',
    ),
} as const
