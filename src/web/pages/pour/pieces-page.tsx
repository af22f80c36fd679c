import { type FormEvent, useCallback, useRef, useState } from 'react'
import type { Piece } from '../../../engine/documents/pour.ts'
import { readStated } from '../../../engine/documents/stated.ts'
import type { WeighedPiece } from '../../../engine/piece/index.ts'
import { massOf, writeFigure } from '../../../engine/quantity/words.ts'
import { Asked, AskedChoice, AskedText, type Meaning } from '../../parts/asked.tsx'
import { type CaliperDraft, CaliperEntries, readCalipers } from '../../parts/caliper-entries.tsx'
import { Figure } from '../../parts/figure.tsx'
import { Mind } from '../../parts/mind.tsx'
import { ModelReading } from '../../parts/model-reading.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { StoneSeat } from '../../parts/stone-seat.tsx'
import { Outlines } from '../../scene/outline.tsx'
import { StandIn } from '../../scene/stand-in.tsx'
import { sendModel } from '../../state/api.ts'
import { useDocuments, usePour } from '../../state/documents.tsx'
import { entryWriting, likelyValue, plainNumber, readTyped } from '../../state/entry.ts'
import { letterOf, modelPiece, volumePiece, waxFor, weighedPiece } from '../../state/new-pour.ts'
import { useWantedPath } from '../../state/open-path.ts'
import { sizesOf } from '../../state/piece-sizes.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

type Way = 'scale' | 'model' | 'volume' | 'drawing'

const FROM = { 'weighed-wax': 'weighed wax', mesh: 'model file', volume: 'entered volume' } as const

const PieceList = ({ chosen, choose }: { chosen: number; choose: (index: number) => void }) => {
  const pour = usePour()
  const { plan } = usePlan()
  const sizes = sizesOf(plan)
  return (
    <ol className="piece-list">
      {pour.pieces.map((piece, index) => {
        const weighed = plan.pieces.pieces[index]
        return (
          <li key={piece.id}>
            <button type="button" aria-pressed={index === chosen} onClick={() => choose(index)}>
              <span>
                <Outlines pieces={[{ ...piece, quantity: 1 }]} sizes={sizes} scale={1} most={60} />
              </span>
              <span>
                <b>{letterOf(index)}</b> {piece.name}
                <small>
                  {FROM[piece.source.from]}
                  {piece.quantity > 1 && `, ${piece.quantity} of them`}
                </small>
              </span>
              <WaxOf weighed={weighed} />
            </button>
          </li>
        )
      })}
    </ol>
  )
}

const WaxOf = ({ weighed }: { weighed: WeighedPiece | undefined }) => {
  const units = useUnits()
  if (weighed?.waxMass === undefined)
    return <span className="muted">{weighed?.pending ? 'being measured' : 'open'}</span>
  const text = writeFigure({ value: weighed.waxMass.value, unit: 'kg', plainMass: true }, units)
  return <span className={weighed.waxMass.kind === 'weighed' ? 'weighed flat' : 'q'}>{text}</span>
}

/** Says at once what a mistyped weight would mean, before the plan believes it. */
const useWaxMeaning = (index: number): ((mass_g: number) => Meaning | undefined) => {
  const { shop } = useDocuments()
  const pour = usePour()
  const units = useUnits()
  const { plan } = usePlan()
  return (mass_g) => {
    const alloy = shop.alloys.find((one) => one.id === pour.alloy) ?? shop.alloys[0]
    const crucible = shop.crucibles.find((one) => one.id === pour.crucible) ?? shop.crucibles[0]
    const density = plan.pieces.pieces[index]?.waxDensity?.value
    if (alloy === undefined || crucible === undefined || density === undefined) return undefined
    const perGram = (readStated(alloy.density_g_cm3).value * 1000) / density
    const metal_g = mass_g * perGram
    if (metal_g <= crucible.holds_g) return undefined
    const likely = likelyValue(mass_g, 0.05, crucible.holds_g / perGram)
    return {
      words: (
        <>
          {plainNumber(mass_g, 2)} g of this wax is {writeFigure(massOf(metal_g / 1000), units)} of{' '}
          {alloy.name.toLowerCase()}, more than your crucible holds,{' '}
          {writeFigure(massOf(crucible.holds_g / 1000), units)}.
        </>
      ),
      ...(likely !== undefined && { likely }),
    }
  }
}

const Calipers = ({ piece, index }: { piece: Piece; index: number }) => {
  const { change } = useDocuments()
  const units = useUnits()
  const [draft, setDraft] = useState<CaliperDraft>({})
  const [part, setPart] = useState(false)
  const at = `/pour/pieces/${index}/source/calipers`
  if (piece.source.from === 'mesh') return null
  const calipers = piece.source.calipers
  if (calipers === undefined) {
    const set = (event: FormEvent): void => {
      event.preventDefault()
      const read = readCalipers(draft, units)
      if (read === undefined || read === 'part') {
        setPart(true)
        return
      }
      change(at, read)
      setDraft({})
      setPart(false)
    }
    return (
      <form onSubmit={set} className="adding" noValidate>
        <h3 className="sub">By calipers</h3>
        <p className="sm muted">Without these the flask and the sprues stay open. Neither is guessed.</p>
        <div data-path={at} tabIndex={-1}>
          <CaliperEntries draft={draft} onChange={setDraft} />
        </div>
        {part && (
          <Mind level="check" live>
            All five figures are wanted, each more than nothing.
          </Mind>
        )}
        <p className="row after">
          <button type="submit" className="btn">
            Set these sizes
          </button>
        </p>
      </form>
    )
  }
  return (
    <FigureRows label="By calipers">
      <FigureRow name="Length">
        <Asked path={`${at}/length_mm`} title={`${piece.name}, length`} />
      </FigureRow>
      <FigureRow name="Width">
        <Asked path={`${at}/width_mm`} title={`${piece.name}, width`} />
      </FigureRow>
      <FigureRow name="Height">
        <Asked path={`${at}/height_mm`} title={`${piece.name}, height`} />
      </FigureRow>
      <FigureRow name="Thickest section" about="caliper jaws">
        <Asked path={`${at}/thickest_mm`} title={`${piece.name}, thickest`} />
      </FigureRow>
      <FigureRow name="Thinnest section">
        <Asked path={`${at}/thinnest_mm`} title={`${piece.name}, thinnest`} />
      </FigureRow>
      <FigureRow name="The thick place is" about="sets how fast it freezes">
        <AskedChoice
          path={`${at}/section`}
          title="The thick place is"
          empty="flat"
          choices={[
            ['plate', 'flat'],
            ['bar', 'a bar'],
            ['round', 'round'],
          ]}
        />
      </FigureRow>
    </FigureRows>
  )
}

const PieceDetail = ({ index }: { index: number }) => {
  const pour = usePour()
  const { shop, changePour } = useDocuments()
  const { plan } = usePlan()
  const units = useUnits()
  const meaning = useWaxMeaning(index)
  const piece = pour.pieces[index]
  const weighed = plan.pieces.pieces[index]
  if (piece === undefined) return null
  const at = `/pour/pieces/${index}`
  const { source } = piece
  const writeLength = (length_mm: number): string =>
    plainNumber(entryWriting('/x_mm', units).toShown(length_mm), units.length === 'in' ? 2 : 1)
  const sizes = weighed?.extents
  const remove = (): void => changePour({ ...pour, pieces: pour.pieces.filter((one) => one.id !== piece.id) })
  return (
    <section aria-label={piece.name}>
      <h2 className="sh">
        {letterOf(index)} <AskedText path={`${at}/name`} title="Name of the piece" />
        <small>{FROM[source.from]}</small>
      </h2>
      <div className="facts-two">
        <div>
          <FigureRows label="The piece">
            {source.from === 'weighed-wax' && (
              <FigureRow name="Wax on the scale" about="this piece alone">
                <Asked
                  path={`${at}/source/mass_g`}
                  title={`${piece.name}, wax on the scale`}
                  kind="weighed"
                  plainMass
                  meaning={meaning}
                />
              </FigureRow>
            )}
            {source.from === 'volume' && (
              <FigureRow name="Volume">
                <Asked path={`${at}/source/volume_cm3`} title={`${piece.name}, volume`} />
              </FigureRow>
            )}
            <FigureRow name="Wax">
              <AskedChoice
                path={`${at}/source/wax`}
                title="Wax"
                choices={shop.waxes.map((wax) => [wax.id, wax.name.toLowerCase()] as const)}
                {...(source.from !== 'weighed-wax' && { empty: 'usual' })}
              />
            </FigureRow>
            {source.from === 'weighed-wax' && (
              <FigureRow name="Its density" about="measured on this bar, if you did">
                <Asked
                  path={`${at}/source/density_g_cm3`}
                  title="Density of this wax"
                  optional
                  empty={
                    weighed?.waxDensity === undefined
                      ? 'as listed'
                      : `${(weighed.waxDensity.value / 1000).toFixed(3)} as listed`
                  }
                />
              </FigureRow>
            )}
            <FigureRow name="How many">
              <Asked path={`${at}/quantity`} title={`How many of ${piece.name}`} as="count" />
            </FigureRow>
          </FigureRows>
        </div>
        <div>
          <Calipers key={piece.id} piece={piece} index={index} />
        </div>
      </div>
      <div className="beside-figure">
        <div>
          {source.from === 'mesh' && <ModelReading key={piece.id} index={index} />}
          {source.from !== 'mesh' && sizes !== undefined && (
            <>
              <StandIn
                name={piece.name}
                length={sizes.length.value * 1000}
                width={sizes.width.value * 1000}
                height={sizes.height.value * 1000}
                write={writeLength}
              />
              <p className="sm text">
                <b>A stand-in, not your {piece.name.toLowerCase()}.</b> It has your outside measures and your
                weight, in {units.length}. It is used for fit in the flask and sprue size; freezing uses your
                thickest section.
              </p>
            </>
          )}
        </div>
        <div>
          <Stat name="As cast" size="big" below={weighed?.castMass && <RangeOf of={weighed.castMass} />}>
            <Figure of={weighed?.castMass} id={`pieces.${piece.id}.castMass`} />
          </Stat>
          <Stat name="Volume">
            <Figure of={weighed?.volume} id={`pieces.${piece.id}.volume`} />
          </Stat>
        </div>
      </div>
      <StoneSeat key={`${piece.id}-seat`} index={index} />
      <p className="row after">
        <button type="button" className="btn thin" onClick={remove}>
          Take {piece.name} out
        </button>
      </p>
    </section>
  )
}

const RangeOf = ({ of }: { of: NonNullable<WeighedPiece['castMass']> }) => {
  const units = useUnits()
  return `${writeFigure({ value: of.low, unit: 'kg' }, units)} to ${writeFigure({ value: of.high, unit: 'kg' }, units)}, nine in ten`
}

const Tree = () => {
  const { plan } = usePlan()
  const { read, change, changePour } = useDocuments()
  const pour = usePour()
  const at = '/pour/tree/weighed'
  const [base, setBase] = useState('')
  const [both, setBoth] = useState('')
  const [trouble, setTrouble] = useState(false)
  if (read(at) === undefined) {
    const weigh = (event: FormEvent): void => {
      event.preventDefault()
      const [base_g, baseWithTree_g] = [readTyped(base), readTyped(both)]
      if (base_g === undefined || baseWithTree_g === undefined || base_g < 0 || baseWithTree_g <= 0) {
        setTrouble(true)
        return
      }
      change(at, { base_g, baseWithTree_g, baseWeighed: 'today' })
      setTrouble(false)
    }
    return (
      <form onSubmit={weigh} noValidate>
        <h2 className="sh">The tree on the scale</h2>
        <p className="sm muted">When it is built: the base alone, then the base with the tree.</p>
        <div className="adding">
          <label>
            Rubber base alone, g{' '}
            <input
              className="fld"
              inputMode="decimal"
              autoComplete="off"
              data-path={`${at}/base_g`}
              value={base}
              onChange={(event) => setBase(event.target.value)}
            />
          </label>
          <label>
            Base with the tree, g{' '}
            <input
              className="fld"
              inputMode="decimal"
              autoComplete="off"
              value={both}
              onChange={(event) => setBoth(event.target.value)}
            />
          </label>
        </div>
        {trouble && (
          <Mind level="check" live>
            Both weights are wanted, in grams.
          </Mind>
        )}
        <button type="submit" className="btn after">
          Write it down
        </button>
      </form>
    )
  }
  const earlier = read(`${at}/baseWeighed`) === 'earlier'
  return (
    <section aria-label="The tree on the scale">
      <FigureRows label="The tree on the scale">
        <FigureRow
          name="Rubber base alone"
          about={
            <label className="tick">
              <input
                type="checkbox"
                checked={!earlier}
                onChange={(event) => change(`${at}/baseWeighed`, event.target.checked ? 'today' : 'earlier')}
              />
              cleaned and weighed today
            </label>
          }
        >
          <Asked path={`${at}/base_g`} title="Rubber base alone" kind="weighed" plainMass />
        </FigureRow>
        <FigureRow name="Base with the tree">
          <Asked path={`${at}/baseWithTree_g`} title="Base with the tree" kind="weighed" plainMass />
        </FigureRow>
        <FigureRow name="Tree" strong>
          <Figure of={plan.pieces.treeWax} range />
        </FigureRow>
      </FigureRows>
      <button
        type="button"
        className="quiet"
        onClick={() => {
          const { weighed: _gone, ...tree } = pour.tree
          changePour({ ...pour, tree })
        }}
      >
        Forget this weighing
      </button>
    </section>
  )
}

const AddPiece = ({ way, done }: { way: Way; done: (index: number | undefined) => void }) => {
  const { shop, changePour } = useDocuments()
  const pour = usePour()
  const [name, setName] = useState('')
  const [figure, setFigure] = useState('')
  const [wax, setWax] = useState(waxFor(shop))
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const [sending, setSending] = useState(false)
  const file = useRef<HTMLInputElement>(null)
  const add = (piece: Piece): void => {
    changePour({ ...pour, pieces: [...pour.pieces, piece] })
    done(pour.pieces.length)
  }
  const called = name.trim() === '' ? `Piece ${letterOf(pour.pieces.length)}` : name.trim()
  const submit = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setTrouble(undefined)
    if (way === 'model') {
      const chosen = file.current?.files?.[0]
      if (chosen === undefined) {
        setTrouble('No file is chosen yet. STL, OBJ, PLY, 3MF and GLB can be read.')
        return
      }
      setSending(true)
      try {
        const { sha256 } = await sendModel(chosen)
        const stem = chosen.name.replace(/\.[^.]+$/, '')
        add(
          modelPiece(pour.pieces, {
            name: name.trim() === '' ? stem : name.trim(),
            file: chosen.name,
            sha256,
          }),
        )
      } catch (error) {
        setTrouble(`${chosen.name}: ${(error as Error).message}. The file is as it was.`)
      }
      setSending(false)
      return
    }
    const value = readTyped(figure)
    if (value === undefined || value <= 0) {
      setTrouble(way === 'scale' ? 'What does the scale show, in grams?' : 'How large is it, in cm³?')
      return
    }
    add(
      way === 'scale'
        ? weighedPiece(pour.pieces, shop, { name: called, mass_g: value, wax })
        : volumePiece(pour.pieces, { name: called, volume_cm3: value }),
    )
  }
  if (way === 'drawing')
    return (
      <div className="adding">
        <Mind level="note">
          <b>A piece from a drawing is not built yet.</b> Weigh its wax, or bring a model file of it.
        </Mind>
        <button type="button" className="btn" onClick={() => done(undefined)}>
          Close
        </button>
      </div>
    )
  return (
    <form className="adding" onSubmit={(event) => void submit(event)} noValidate>
      <label>
        Name
        <input
          className="fld long"
          value={name}
          maxLength={200}
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      {way === 'model' ? (
        <label>
          Model file
          <small>STL, OBJ, PLY, 3MF or GLB</small>
          <input ref={file} type="file" accept=".stl,.obj,.ply,.3mf,.glb" className="fld long" />
        </label>
      ) : (
        <label>
          {way === 'scale' ? 'Wax on the scale, g' : 'Volume, cm³'}
          <br />
          <input
            className="fld"
            inputMode="decimal"
            autoComplete="off"
            value={figure}
            onChange={(event) => setFigure(event.target.value)}
          />
        </label>
      )}
      {way === 'scale' && (
        <label>
          Which wax
          <br />
          <select className="asked" value={wax} onChange={(event) => setWax(event.target.value)}>
            {shop.waxes.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </label>
      )}
      {trouble !== undefined && (
        <Mind level="check" live>
          {trouble}
        </Mind>
      )}
      <p className="row after">
        <button type="submit" className="btn go" disabled={sending}>
          {sending ? 'Sending' : 'Add it'}
        </button>
        <button type="button" className="btn" onClick={() => done(undefined)}>
          Leave it
        </button>
      </p>
    </form>
  )
}

const WAYS: readonly (readonly [Way, string])[] = [
  ['scale', 'the scale'],
  ['model', 'a model file'],
  ['drawing', 'a drawing'],
  ['volume', 'a volume'],
]

const pieceIn = (path: string): number | undefined => {
  const found = /^\/pour\/pieces\/(\d+)/.exec(path)
  return found === null ? undefined : Number(found[1])
}

export const PiecesPage = () => {
  const pour = usePour()
  const [chosen, setChosen] = useState(0)
  const [way, setWay] = useState<Way | undefined>(undefined)
  useWantedPath(
    useCallback((path: string) => {
      const wanted = pieceIn(path)
      if (wanted !== undefined) setChosen(wanted)
    }, []),
  )
  const index = Math.min(chosen, Math.max(0, pour.pieces.length - 1))
  return (
    <div className="part-page">
      <h2 className="vh">Pieces</h2>
      <div className="pieces-cols">
        <div>
          {pour.pieces.length === 0 ? (
            <p className="text">
              <b>No pieces.</b> Start with whichever you have: the wax on your scale, a model file, or a
              volume.
            </p>
          ) : (
            <PieceList chosen={index} choose={setChosen} />
          )}
          <p className="lb after">Add a piece from</p>
          <div className="add-four">
            {WAYS.map(([one, name]) => (
              <button
                key={one}
                type="button"
                className="btn"
                aria-expanded={way === one}
                onClick={() => setWay(way === one ? undefined : one)}
              >
                {name}
              </button>
            ))}
          </div>
          {way !== undefined && (
            <AddPiece
              key={way}
              way={way}
              done={(added) => {
                setWay(undefined)
                if (added !== undefined) setChosen(added)
              }}
            />
          )}
          <Tree />
        </div>
        <div>
          {pour.pieces.length > 0 && <PieceDetail key={pour.pieces[index]?.id} index={index} />}
          <PartVerdicts part="pieces" />
        </div>
      </div>
    </div>
  )
}
