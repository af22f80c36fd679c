import type { Piece, Pour, Roots, Shop } from '../documents/index.ts'
import {
  addUp,
  lengthOf,
  massOf,
  NINE_IN_TEN,
  type Problem,
  plainMassOf,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
} from '../quantity/index.ts'
import { asCast, compareCarved, type DrawnPiece, expectWax, shrinkOf } from './drawn-piece.ts'
import {
  asCalipersSay,
  lengthOverSize,
  massOfMetal,
  massOfWax,
  modulusOfBall,
  modulusOfBar,
  modulusOfPlate,
  modulusOfWideBar,
  thinBodySurface,
  timesQuantity,
  volumeOfWax,
  waxOfSeveral,
  waxOfTree,
} from './formulas.ts'
import { modulusWithin } from './mesh/thick-places.ts'
import { type MeshFacts, shapeKey } from './mesh-facts.ts'
import { judgeScaleLimits } from './scale-limits.ts'

export type Section = 'plate' | 'bar' | 'round' | 'wide bar' | 'ball' | 'as its solid has it'

/** Where a solid is thick: its thickness, and the modulus of its own metal. */
export interface PlaceOfSolid {
  readonly thickness: Quantity
  readonly modulus: Quantity
}

/** One kind of piece in the pour, as far as it is known. What is not known is left out, never guessed. */
export interface WeighedPiece {
  readonly id: string
  readonly name: string
  /** A, B, C: how the plate and the lists call it */
  readonly letter: string
  readonly index: number
  readonly quantity: number
  readonly from: Piece['source']['from']
  /** one wax */
  readonly waxMass?: Quantity
  /** the waxes of all of this kind */
  readonly waxMassAll?: Quantity
  readonly waxDensity?: Quantity
  readonly waxId: string | undefined
  readonly volume?: Quantity
  /** one piece */
  readonly castMass?: Quantity
  /** all of this kind */
  readonly castMassAll?: Quantity
  readonly extents?: { readonly length: Quantity; readonly width: Quantity; readonly height: Quantity }
  readonly thickest?: Quantity
  readonly thinnest?: Quantity
  readonly section: Section
  /** of the thickest place of a wide bar */
  readonly sectionWidth?: Quantity
  readonly modulus?: Quantity
  /** of a solid that no caliper has overruled, where it is thick, thickest first; the first is `modulus` */
  readonly places?: readonly PlaceOfSolid[]
  /** how many times as thick as that solid calipers say it is, 1 or more */
  readonly thicker?: number
  readonly surface?: Quantity
  /** of a drawn piece, what was left on it for the file [m3 of the casting] */
  readonly filed?: Quantity
  /** true when a plain solid of the caster's outside measures and this volume stands in for the shape */
  readonly standIn: boolean
  /** of a piece that began as a drawing */
  readonly drawn?: DrawnPiece
  /** a slow result is still out for this piece */
  readonly pending: boolean
}

export interface PiecesAnswer {
  readonly pieces: readonly WeighedPiece[]
  /** mass as cast of all pieces, when every piece has one */
  readonly castMass?: Quantity
  /** the tree on the scale, base taken off, when it was weighed */
  readonly treeWax?: Quantity
  readonly answer: RoomAnswer
}

export interface PiecesInput {
  readonly shop: Shop
  readonly pour: Pour
  readonly roots: Roots
  /** undefined when the shop does not know the alloy: then nothing has a mass in metal */
  readonly alloyIndex: number | undefined
  readonly meshes: Readonly<Record<string, MeshFacts>>
}

/** A scale's last digit, read once: spread evenly over one step (GUM 4.3.7). */
export const scaleSpread = (resolution_g: number): number => resolution_g / 1000 / Math.sqrt(12)

const CALIPER_U = 0.03e-3

const NOTHING_MOVES = { plan_mm2: 0, rim_mm2: 0, scaleSpread: 0, outlineSpread_mm: 0 } as const

/** Midway between a bar's quarter and a plate's half, nearer the bar: a plate is the safe reading. */
const BAR_SHARE = 0.33

const letterOf = (index: number): string =>
  index < 26
    ? String.fromCharCode(65 + index)
    : `${String.fromCharCode(64 + Math.floor(index / 26))}${String.fromCharCode(65 + (index % 26))}`

type SolidPlaces = NonNullable<NonNullable<MeshFacts['thickness_mm']>['places']>

/** How far the calipers' thickest may be from the solid's before it is asked which of the two is this wax. */
const AGREE = 0.1

/**
 * A solid's thick places, at the size of the wax, and as much thicker all of them as calipers on it say that the
 * thickest is; never thinner, for a caliper finds its way to a thinner place sooner than a thicker.
 * @param over  how many times as long as its file says the wax is
 */
const placesOf = (
  piece: Piece,
  id: string,
  solid: SolidPlaces,
  over: number,
  byCalipers: Quantity | undefined,
): PlaceOfSolid[] => {
  let thickest: Quantity | undefined
  return solid.map((place, index) => {
    const which = index === 0 ? 'thickest place' : `place ${index + 1}`
    const [thickness_mm, modulus_mm] = [place.thickness_mm * over, place.modulus_mm * over]
    const { least, most } = modulusWithin(thickness_mm, modulus_mm)
    const as = byCalipers === undefined ? '' : ', in the solid'
    const thickness = root({
      id: `${id}.place${index + 1}.thickness${byCalipers ? 'InSolid' : ''}`,
      title: `${piece.name}, ${which}${as}`,
      unit: 'm',
      value: thickness_mm / 1000,
      u: thickness_mm * 3e-5,
      kind: 'usual',
      source: 'the largest ball that fits inside the solid there',
    })
    const modulus = root({
      id: `${id}.place${index + 1}.modulus${byCalipers ? 'InSolid' : ''}`,
      title: `${piece.name}, modulus of its ${which}${as}`,
      unit: 'm',
      value: modulus_mm / 1000,
      low: least / 1000,
      high: most / 1000,
      // what may spoil a pour is that it freezes later than that, so its spread is the upper side's
      u: (most - modulus_mm) / 1000 / NINE_IN_TEN,
      kind: 'usual',
      source:
        'volume over cooling area of the metal there, measured in the solid; such a place has no sharp end, so a quarter either way',
    })
    thickest ??= thickness
    if (byCalipers === undefined) return { thickness, modulus }
    const grown = { byCalipers, inSolid: thickest }
    return {
      thickness: asCalipersSay(
        { size: thickness, ...grown },
        { id: `${id}.place${index + 1}.thickness`, title: `${piece.name}, ${which}` },
      ),
      modulus: asCalipersSay(
        { size: modulus, ...grown },
        { id: `${id}.place${index + 1}.modulus`, title: `${piece.name}, modulus of its ${which}` },
      ),
    }
  })
}

/** Do calipers on the wax and its solid tell of the same thickest place? */
const compareThickest = (
  piece: Piece,
  at: string,
  byCalipers: Quantity,
  inSolid: number,
): readonly Verdict[] => {
  const times = byCalipers.value / inSolid
  if (Math.abs(times - 1) <= AGREE) return []
  return [
    {
      id: `pieces.${piece.id}.thickest`,
      part: 'pieces',
      verdict: 'check',
      title: say`${piece.name}: calipers and solid differ at the thickest`,
      reason: say`By calipers it is ${byCalipers} thick at its thickest, in the solid ${lengthOf(inSolid)}. ${
        times > 1
          ? 'Its sprue is sized as if all of it were thicker by as much.'
          : 'Its sprue is sized by the solid, the thicker of the two.'
      }`,
      remedy: say`measure its thickest place again, or load the model that this wax was made by`,
      where: `${at}/source/calipers/thickest_mm`,
    },
  ]
}

const waxIndexOf = (shop: Shop, wax: string | undefined): number => {
  const index = shop.waxes.findIndex((row) => row.id === wax)
  return index
}

const weighOne = (
  piece: Piece,
  index: number,
  input: PiecesInput,
  verdicts: Verdict[],
  problems: Problem[],
): WeighedPiece => {
  const { shop, roots } = input
  const at = `/pour/pieces/${index}`
  const letter = letterOf(index)
  const { source } = piece
  const waxIndex = waxIndexOf(shop, source.wax ?? shop.waxes[0]?.id)
  if (source.wax !== undefined && waxIndex < 0)
    problems.push({
      kind: 'no-such-wax',
      where: `${at}/source/wax`,
      what: say`${piece.name} names the wax ${source.wax}, which this shop does not list`,
      remedy: say`choose a wax of this shop, or add it under Shop`,
    })
  const densityPath = `${at}/source/density_g_cm3`
  const waxDensity = roots.has(densityPath)
    ? roots.at(densityPath, `Density of the wax of ${piece.name}`, { kind: 'weighed' })
    : waxIndex >= 0
      ? roots.at(
          `/shop/waxes/${waxIndex}/density_g_cm3`,
          `Density of ${shop.waxes[waxIndex]?.name.toLowerCase()}`,
        )
      : undefined
  const id = `pieces.${piece.id}`

  let volume: Quantity | undefined
  let waxMass: Quantity | undefined
  let extents: WeighedPiece['extents']
  let thickest: Quantity | undefined
  let thinnest: Quantity | undefined
  let surface: Quantity | undefined
  let filed: Quantity | undefined
  let section: Section = 'plate'
  let solidPlaces: SolidPlaces = []
  let standIn = false
  let pending = false
  let drawn: DrawnPiece | undefined
  const carved =
    source.from === 'pattern' && source.carved_g !== undefined
      ? roots.at(`${at}/source/carved_g`, `${piece.name}, carved wax on the scale`, {
          kind: 'weighed',
          u: scaleSpread(shop.scales.wax.resolution_g),
          plainMass: true,
          source: `weighed, scale reads to ${shop.scales.wax.resolution_g} g`,
        })
      : undefined

  if (source.from === 'weighed-wax') {
    waxMass = roots.at(`${at}/source/mass_g`, `${piece.name}, wax on the scale`, {
      kind: 'weighed',
      u: scaleSpread(shop.scales.wax.resolution_g),
      plainMass: true,
      source: `weighed, scale reads to ${shop.scales.wax.resolution_g} g`,
    })
    if (waxDensity !== undefined)
      volume = volumeOfWax(
        { mass: waxMass, density: waxDensity },
        { id: `${id}.volume`, title: `Volume of ${piece.name}` },
      )
  } else if (source.from === 'volume') {
    volume = roots.at(`${at}/source/volume_cm3`, `Volume of ${piece.name}`)
  } else {
    const facts = input.meshes[shapeKey(source) ?? '']
    if (facts === undefined) pending = true
    else if (facts.volume_mm3 === null) {
      const [first] = facts.problems
      problems.push({
        kind: source.from === 'mesh' ? 'mesh-without-volume' : 'drawing-without-volume',
        where: `${at}/source`,
        what: first
          ? say`${piece.name}: ${first.what} (${first.where}); until it is mended the piece has no weight`
          : say`${piece.name} has no volume that can be trusted`,
        remedy: first ? say`${first.remedy}` : say`mend the model and load it again`,
      })
    } else {
      const size = facts.volume_mm3 * 1e-9
      if (source.from === 'pattern') {
        drawn = expectWax({
          piece,
          source,
          volume_mm3: facts.volume_mm3,
          drawn: facts.drawn ?? NOTHING_MOVES,
          roots,
          alloyIndex: input.alloyIndex,
          waxDensity,
        })
        volume = drawn.volume
        if (facts.drawn?.filed_mm3 !== undefined)
          filed = root({
            id: `${id}.filed`,
            title: `Left on ${piece.name} for the file`,
            unit: 'm3',
            value: facts.drawn.filed_mm3 * 1e-9,
            u: facts.drawn.filed_mm3 * 1e-9 * 0.1,
            kind: 'usual',
            source: `measured from the relief of ${source.file}; nobody files nearer than a tenth of it, a choice`,
          })
        if (carved !== undefined && drawn.wax !== undefined)
          verdicts.push(compareCarved(piece, at, drawn.wax, carved))
      } else
        volume = root({
          id: `${id}.volume`,
          title: `Volume of ${piece.name}`,
          unit: 'm3',
          value: size,
          u: size * 0.01,
          kind: 'usual',
          source: `measured from ${source.file}; a made wax follows its model to about 1 %, common practice`,
        })
      if (facts.bounds_mm !== null) {
        const { min, max } = facts.bounds_mm
        const over = source.from === 'pattern' && drawn?.volume !== drawn?.asDrawn
        const side = (axis: number, word: string): Quantity => {
          const measured = root({
            id: over ? `${id}.${word}.asDrawn` : `${id}.${word}`,
            title: over ? `${piece.name}, ${word} as drawn` : `${piece.name}, ${word}`,
            unit: 'm',
            value: ((max[axis] ?? 0) - (min[axis] ?? 0)) / 1000,
            kind: 'usual',
            source: `measured from ${source.file}`,
          })
          return over && input.alloyIndex !== undefined
            ? lengthOverSize(
                { drawn: measured, shrink: shrinkOf(roots, input.alloyIndex) },
                { id: `${id}.${word}`, title: `${piece.name}, ${word}` },
              )
            : measured
        }
        extents = { length: side(0, 'length'), width: side(1, 'width'), height: side(2, 'height') }
      }
      if (facts.area_mm2 !== null)
        surface = root({
          id: `${id}.surface`,
          title: `Surface of ${piece.name}`,
          unit: 'm2',
          value: facts.area_mm2 * 1e-6,
          u: facts.area_mm2 * 1e-6 * 0.02,
          kind: 'usual',
          source: `measured from ${source.file}`,
        })
      if (facts.thickness_mm !== null) {
        solidPlaces = facts.thickness_mm.places ?? []
        const thick = facts.thickness_mm.thickest / 1000
        const thin = facts.thickness_mm.thinnest / 1000
        const sampled = (word: string, value: number): Quantity =>
          root({
            id: `${id}.${word}`,
            title: `${piece.name}, ${word}`,
            unit: 'm',
            value,
            u: value * 0.06,
            kind: 'usual',
            source: `sampled by the balls that just fit inside ${source.file}`,
          })
        thickest = sampled('thickest', thick)
        thinnest = sampled('thinnest', thin)
        // volume over surface is near half the usual thickness in a plate and a quarter of it in a bar or ring;
        // against the thickest place a plate with a thin ground would pass for a bar, and get too thin a sprue
        if (
          facts.area_mm2 !== null &&
          facts.volume_mm3 / facts.area_mm2 < BAR_SHARE * facts.thickness_mm.usual
        )
          section = 'bar'
      }
      for (const problem of facts.problems)
        verdicts.push({
          id: `pieces.${piece.id}.mesh`,
          part: 'pieces',
          ...(source.from === 'mesh' && source.acceptRepair
            ? { verdict: 'pass', title: say`${piece.name}, the repair shown was accepted`, remedy: [] }
            : {
                verdict: 'check',
                title:
                  source.from === 'mesh'
                    ? say`${piece.name}, the model file`
                    : say`${piece.name}, the drawing`,
                remedy: say`${problem.remedy}`,
              }),
          reason: say`${problem.what} (${problem.where})`,
          where: `${at}/source`,
        })
    }
  }

  if (carved !== undefined) {
    waxMass = carved
    if (waxDensity !== undefined)
      volume = volumeOfWax(
        { mass: carved, density: waxDensity },
        { id: `${id}.volume`, title: `Volume of ${piece.name}` },
      )
  }

  const caliperPath = `${at}/source/calipers`
  const read = (key: string, title: string): Quantity | undefined =>
    roots.has(`${caliperPath}/${key}`)
      ? roots.at(`${caliperPath}/${key}`, `${piece.name}, ${title}`, {
          u: CALIPER_U,
          source: 'calipers, to about 0.05 mm either way',
        })
      : undefined
  thickest = read('thickest_mm', 'thickest') ?? thickest
  thinnest = read('thinnest_mm', 'thinnest') ?? thinnest
  const said = source.calipers?.section
  if (said !== undefined) section = said
  const sectionWidth =
    said === 'bar' || said === undefined ? read('sectionWidth_mm', 'width of the thickest place') : undefined
  if (sectionWidth !== undefined) section = 'wide bar'
  const length = read('length_mm', 'length')
  const width = read('width_mm', 'width')
  const height = read('height_mm', 'height')
  if (length !== undefined && width !== undefined && height !== undefined) {
    extents = { length, width, height }
    standIn = true
  }

  if (volume !== undefined && waxMass === undefined && waxDensity !== undefined)
    waxMass = massOfWax({ volume, density: waxDensity }, { id: `${id}.wax`, title: `${piece.name}, in wax` })

  const waxMassAll =
    waxMass === undefined || piece.quantity === 1
      ? waxMass
      : waxOfSeveral(
          { one: waxMass, count: roots.at(`${at}/quantity`, `How many of ${piece.name}`) },
          { id: `${id}.waxAll`, title: `${piece.name}, all ${piece.quantity} in wax` },
        )

  let castMass: Quantity | undefined
  let castMassAll: Quantity | undefined
  if (volume !== undefined && input.alloyIndex !== undefined) {
    const density = roots.at(`/shop/alloys/${input.alloyIndex}/density_g_cm3`, 'Density of the metal')
    // a drawn piece has a size to come out at, so its metal is that of the casting and not of the cavity
    const filled = drawn === undefined ? volume : asCast(drawn, volume, piece, roots, input.alloyIndex)
    castMass = massOfMetal(
      { volume: filled, density },
      { id: `${id}.castMass`, title: `${piece.name}, as cast` },
    )
    castMassAll =
      piece.quantity === 1
        ? castMass
        : timesQuantity(
            { one: castMass, count: roots.at(`${at}/quantity`, `How many of ${piece.name}`) },
            { id: `${id}.castMassAll`, title: `${piece.name}, all ${piece.quantity} as cast` },
          )
    if (surface === undefined && thickest !== undefined && thinnest !== undefined)
      surface = thinBodySurface(
        { volume, thickest, thinnest },
        { id: `${id}.surface`, title: `Surface of ${piece.name}` },
      )
  }

  let modulus: Quantity | undefined
  // who says by hand what the thickest place is, is believed; calipers alone say how thick, and the solid how shaped
  const saidByHand = said !== undefined || sectionWidth !== undefined
  const thickestByCalipers = read('thickest_mm', 'thickest')
  const over = drawn === undefined ? 1 : Math.cbrt(drawn.volume.value / drawn.asDrawn.value)
  const places = saidByHand ? [] : placesOf(piece, id, solidPlaces, over, thickestByCalipers)
  const thickestInSolid = saidByHand ? undefined : solidPlaces[0]
  const thicker =
    thickestByCalipers && thickestInSolid
      ? Math.max(1, (thickestByCalipers.value * 1000) / (thickestInSolid.thickness_mm * over))
      : 1
  if (thickestByCalipers && thickestInSolid)
    verdicts.push(
      ...compareThickest(piece, at, thickestByCalipers, (thickestInSolid.thickness_mm * over) / 1000),
    )
  if (places[0] !== undefined) {
    section = 'as its solid has it'
    modulus = places[0].modulus
  } else if (thickest !== undefined && extents !== undefined) {
    const sizes = [extents.length, extents.width, extents.height].sort((a, b) => b.value - a.value)
    const [longest, middle] = sizes as [Quantity, Quantity, Quantity]
    const as = { id: `${id}.modulus` }
    if (section === 'plate')
      modulus = modulusOfPlate({ thickness: thickest, length: longest, width: middle }, as)
    else if (section === 'ball') modulus = modulusOfBall({ thickness: thickest }, as)
    else if (sectionWidth !== undefined)
      modulus = modulusOfWideBar({ thickness: thickest, width: sectionWidth, length: longest }, as)
    else modulus = modulusOfBar({ thickness: thickest, length: longest }, as)
  }

  const unsaid = !saidByHand && places.length === 0
  if (source.from !== 'mesh' && source.calipers !== undefined && unsaid && !pending)
    verdicts.push({
      id: `pieces.${piece.id}.section`,
      part: 'pieces',
      verdict: 'check',
      title: say`${piece.name} is taken as a plate`,
      reason: say`Nobody has said what its thickest place is. A plate freezes last, so its sprue comes out widest: for a bar or a lump of the same thickness it would be much thinner.`,
      remedy: say`say what the thick place is`,
      where: `${at}/source/calipers/section`,
    })
  else if (said === 'plate') verdicts.push(...thickOnlyInPart(piece, at, { volume, extents, thickest }))
  if (standIn) verdicts.push(standInVerdict(piece, index, volume), ...widthVerdict(piece, index, volume))
  else if (extents === undefined && volume !== undefined && !pending)
    verdicts.push({
      id: `pieces.${piece.id}.calipers`,
      part: 'pieces',
      verdict: 'check',
      title: say`${piece.name} has a weight but no size`,
      reason: say`Its fit in the flask and its sprue stay open until it is measured; neither is guessed.`,
      remedy: say`measure length, width, height and the thickest and thinnest sections`,
      where: `${at}/source/calipers/length_mm`,
    })

  return {
    id: piece.id,
    name: piece.name,
    letter,
    index,
    quantity: piece.quantity,
    from: source.from,
    waxMass,
    waxMassAll,
    waxDensity,
    waxId: source.wax,
    volume,
    castMass,
    castMassAll,
    extents,
    thickest,
    thinnest,
    section,
    sectionWidth,
    modulus,
    ...(places.length > 0 && { places, thicker }),
    surface,
    filed,
    standIn,
    drawn,
    pending,
  }
}

/** Spread over its outline, a wax that is a plate all over is at least so thick against its thickest place: edges and relief take the rest. */
const ALL_OVER = 2 / 3

/** By its weight a wax said to be a plate is as thick as that in part only: how large that part is decides its sprue. */
const thickOnlyInPart = (
  piece: Piece,
  at: string,
  { volume, extents, thickest }: Partial<Pick<WeighedPiece, 'volume' | 'extents' | 'thickest'>>,
): Verdict[] => {
  if (volume === undefined || extents === undefined || thickest === undefined) return []
  const [long = 0, wide = 0] = [extents.length.value, extents.width.value, extents.height.value].sort(
    (a, b) => b - a,
  )
  const mean = volume.value / (long * wide)
  if (mean >= ALL_OVER * thickest.value) return []
  return [
    {
      id: `pieces.${piece.id}.section`,
      part: 'pieces',
      verdict: 'check',
      title: say`${piece.name} is thick in part, and taken as thick all over`,
      reason: say`Spread over its outline its wax is ${lengthOf(mean)} thick, and its thickest place ${lengthOf(thickest.value)}. That place is said to be a plate, and a plate freezes last: in plaster it asks a sprue about three times as thick as itself, where a place as narrow as it is thick asks one of its own thickness.`,
      remedy: say`give the model, or call the thick place a bar and say how wide it is; leave it if it is wide both ways`,
      where: `${at}/source/calipers/section`,
    },
  ]
}

/** Two caliper readings of one place may be so far apart. */
const CALIPERS_OFF = 1.05

/** A bar bent once round the outline is about as much wax as such a piece may be [m³]; lengths in mm. */
const asBar = (thick: number, wide: number, middle: number, most: number): number =>
  thick * wide * 2 * (middle + most) * 1e-9

/** How wide a place called a bar is, against the weight: with no width given it is taken as wide as it is thick. */
const widthVerdict = (piece: Piece, index: number, volume: Quantity | undefined): Verdict[] => {
  const calipers = piece.source.calipers
  if (volume === undefined || calipers?.section !== 'bar' || !('length_mm' in calipers)) return []
  const { length_mm, width_mm, height_mm, thickest_mm, sectionWidth_mm: given } = calipers
  const [, middle = 0, most = 0] = [length_mm, width_mm, height_mm].sort((a, b) => a - b)
  const wide = given ?? thickest_mm
  const times = volume.value / asBar(thickest_mm, wide, middle, most)
  const isNarrow = given !== undefined && given * CALIPERS_OFF < thickest_mm
  if (times <= 1 && !isNarrow) return []
  const taken =
    given === undefined
      ? say`That place is called a bar and no width is given, so it is taken as wide as it is thick, ${lengthOf(thickest_mm / 1000)}.`
      : say`That place is called a bar ${lengthOf(given / 1000)} wide and ${lengthOf(thickest_mm / 1000)} thick.`
  const why = isNarrow
    ? say`No place is narrower than it is thick, as its thickness is measured across its thin way.`
    : say`The wax weighs ${times.toFixed(1)} times what such a bar round its whole outline would, so it is most likely wider, stays liquid longer, and asks a thicker sprue.`
  return [
    {
      id: `pieces.${piece.id}.barWidth`,
      part: 'pieces',
      verdict: 'check',
      title: say`${piece.name}, how wide its thickest place is`,
      reason: say`${taken} ${why}`,
      remedy: say`measure how wide the thickest place is, and enter it${given === undefined ? '; leave it if it is as wide as it is thick' : ''}`,
      where: `/pour/pieces/${index}/source/calipers/section`,
    },
  ]
}

/** Do the weight, the outside and the sections agree with one another? */
const standInVerdict = (piece: Piece, index: number, volume: Quantity | undefined): Verdict => {
  const where = `/pour/pieces/${index}/source/calipers`
  const calipers = piece.source.calipers
  const base = { id: `pieces.${piece.id}.figures`, part: 'pieces', where } as const
  if (volume === undefined || calipers === undefined || !('length_mm' in calipers))
    return {
      ...base,
      verdict: 'pass',
      title: say`${piece.name}, sizes`,
      reason: say`Measured by calipers.`,
      remedy: [],
    }
  const { length_mm, width_mm, height_mm, thickest_mm, thinnest_mm } = calipers
  const box = length_mm * width_mm * height_mm * 1e-9
  const sizes = [length_mm, width_mm, height_mm].sort((a, b) => a - b)
  const [least = 0, middle = 0, most = 0] = sizes
  const impossible = (reason: Verdict['reason'], remedy: Verdict['remedy']): Verdict => ({
    ...disagree(reason, remedy),
    verdict: 'stop',
  })
  const disagree = (reason: Verdict['reason'], remedy: Verdict['remedy']): Verdict => ({
    ...base,
    verdict: 'check',
    title: say`${piece.name}, figures disagree`,
    reason,
    remedy,
  })
  if (thinnest_mm > thickest_mm)
    return disagree(
      say`The thinnest section, ${lengthOf(thinnest_mm / 1000)}, is more than the thickest, ${lengthOf(thickest_mm / 1000)}.`,
      say`look at the two entries again`,
    )
  if (volume.low > box)
    return impossible(
      say`The wax weighs more than a solid block of its outside sizes would: ${{ value: volume.value, unit: 'm3' }} in a box of ${{ value: box, unit: 'm3' }}.`,
      say`weigh and measure ${piece.name} again; check that the sizes are in the unit shown`,
    )
  // the thickest place is measured across, so it lies within the piece's least size
  if (thickest_mm > CALIPERS_OFF * least)
    return disagree(
      say`The thickest section, ${lengthOf(thickest_mm / 1000)}, is more than the least outside size, ${lengthOf(least / 1000)}: no place is thicker than the whole. Its sprue, the main sprue and the charge come out too large by that.`,
      say`measure the thickest place across its thin way, and look at the sizes again`,
    )
  if (calipers.sectionWidth_mm !== undefined && calipers.sectionWidth_mm > most)
    return disagree(
      say`The thickest place, ${lengthOf(calipers.sectionWidth_mm / 1000)} wide, is wider than the longest outside size.`,
      say`look at the entries again`,
    )
  const asPlate = volume.value / (middle * most * 1e-6)
  if (least <= 1.3 * thickest_mm && asPlate > (thickest_mm / 1000) * 1.05)
    return disagree(
      say`Spread over its outline the wax is ${lengthOf(asPlate)} thick, more than the thickest section, ${lengthOf(thickest_mm / 1000)}.`,
      say`weigh ${piece.name} again, or measure its thickest place`,
    )
  if (asPlate < (thinnest_mm / 1000) * 0.2)
    return disagree(
      say`The wax is very light for these sizes: spread over its outline it is ${lengthOf(asPlate)} thick, against a thinnest section of ${lengthOf(thinnest_mm / 1000)}.`,
      say`check that the weight is in grams and the sizes are in the unit shown`,
    )
  if (calipers.sectionWidth_mm !== undefined && (calipers.section ?? 'bar') !== 'bar')
    return disagree(
      say`A width of ${lengthOf(calipers.sectionWidth_mm / 1000)} is given for the thickest place, and the place is called ${calipers.section ?? ''}: a width is that of a bar, and is not read.`,
      say`call the thickest place a bar, or take its width away`,
    )
  return {
    ...base,
    verdict: 'pass',
    title: say`${piece.name}, figures agree`,
    reason: say`Weight, outside and sections fit one another.`,
    remedy: [],
  }
}

/** How far the tree may differ from the sum of its parts before it says that something was mis-weighed. */
const treeVerdicts = (input: PiecesInput, pieces: readonly WeighedPiece[], treeWax: Quantity): Verdict[] => {
  const weighed = input.pour.tree.weighed
  if (weighed === undefined) return []
  const verdicts: Verdict[] = []
  const where = '/pour/tree/weighed/base_g'
  const parts = pieces.reduce((total, piece) => total + (piece.waxMass?.value ?? 0) * piece.quantity, 0)
  const spread =
    pieces.reduce(
      (total, piece) => total + ((piece.waxMass?.u ?? 0) * piece.quantity) ** 2,
      treeWax.u ** 2,
    ) ** 0.5
  const sprues = treeWax.value - parts
  if (sprues < -2 * spread)
    verdicts.push({
      id: 'pieces.tree',
      part: 'pieces',
      verdict: 'stop',
      title: say`The tree weighs less than its parts`,
      reason: say`The tree is ${plainMassOf(treeWax.value)} and its pieces alone are ${plainMassOf(parts)}: the base's weight is an old one, or a figure is wrong. A charge worked out from it would fall short.`,
      remedy: say`clean the base, weigh it alone, then weigh it with the tree`,
      where,
    })
  else
    verdicts.push({
      id: 'pieces.tree',
      part: 'pieces',
      verdict: 'pass',
      title: say`The tree holds its pieces`,
      reason: say`Tree ${plainMassOf(treeWax.value)}, pieces ${plainMassOf(parts)}, so ${plainMassOf(Math.max(0, sprues))} of it is sprues.`,
      remedy: [],
    })
  if (weighed.baseWeighed === 'earlier')
    verdicts.push({
      id: 'pieces.base',
      part: 'pieces',
      verdict: 'check',
      title: say`The base was weighed earlier`,
      reason: say`Old wax on the base when it was weighed makes the tree read light by as much, and the charge short by about eleven times that in silver.`,
      remedy: say`clean the base and weigh it today`,
      where,
    })
  return verdicts
}

/** Each piece's wax, volume, size and mass as cast, from whatever it comes from. */
export const weighPieces = (input: PiecesInput): PiecesAnswer => {
  const verdicts: Verdict[] = [...judgeScaleLimits(input.shop, input.pour)]
  const problems: Problem[] = []
  const pieces = input.pour.pieces.map((piece, index) => weighOne(piece, index, input, verdicts, problems))
  if (pieces.length === 0)
    problems.push({
      kind: 'no-pieces',
      where: '/pour/pieces',
      what: say`This pour has no pieces yet`,
      remedy: say`weigh a wax, load a model or enter a volume`,
    })
  const seen = new Set<string>()
  for (const piece of pieces) {
    if (seen.has(piece.id))
      problems.push({
        kind: 'same-id-twice',
        where: `/pour/pieces/${piece.index}/id`,
        what: say`Two pieces have the id ${piece.id}`,
        remedy: say`give each piece an id of its own`,
      })
    seen.add(piece.id)
  }

  const masses = pieces.flatMap((piece) => (piece.castMassAll === undefined ? [] : [piece.castMassAll]))
  const castMass =
    masses.length === pieces.length && masses.length > 0
      ? addUp(
          { id: 'pieces.castMass', title: 'Pieces as cast', says: 'the pieces as cast, added up' },
          masses,
        )
      : undefined

  let treeWax: Quantity | undefined
  const weighed = input.pour.tree.weighed
  if (weighed !== undefined) {
    const { resolution_g } = input.shop.scales.wax
    const on = (key: string, title: string): Quantity =>
      input.roots.at(`/pour/tree/weighed/${key}`, title, {
        kind: 'weighed',
        u: scaleSpread(resolution_g),
        plainMass: true,
        source: `weighed, scale reads to ${resolution_g} g`,
      })
    const base = on('base_g', 'Rubber base alone')
    const withTree = on('baseWithTree_g', 'Base with the tree')
    if (weighed.baseWithTree_g <= weighed.base_g)
      verdicts.push({
        id: 'pieces.tree',
        part: 'pieces',
        verdict: 'stop',
        title: say`The base with the tree weighs no more than the base`,
        reason: say`Base ${massOf(base.value)}, with the tree ${massOf(withTree.value)}: one of the two is wrong.`,
        remedy: say`weigh both again`,
        where: '/pour/tree/weighed/baseWithTree_g',
      })
    else {
      treeWax = waxOfTree({ base, withTree }, { id: 'pieces.tree' })
      verdicts.push(...treeVerdicts(input, pieces, treeWax))
    }
  }
  return { pieces, castMass, treeWax, answer: { verdicts, cautions: [], problems } }
}
