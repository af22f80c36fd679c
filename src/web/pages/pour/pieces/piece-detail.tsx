import { Link } from 'wouter'
import type { WeighedPiece } from '../../../../engine/piece/index.ts'
import { writeFigure } from '../../../../engine/quantity/words.ts'
import { Asked, AskedChoice, AskedText } from '../../../parts/asked.tsx'
import { Figure } from '../../../parts/figure.tsx'
import { ModelReading } from '../../../parts/model-reading.tsx'
import { FigureRow, FigureRows, Stat } from '../../../parts/stat.tsx'
import { StoneSeat } from '../../../parts/stone-seat.tsx'
import { StandIn } from '../../../scene/stand-in.tsx'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { entryWriting, plainNumber, scaleDecimals } from '../../../state/entry.ts'
import { letterOf } from '../../../state/new-pour.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { Calipers } from './calipers.tsx'
import { FROM } from './comes-from.ts'
import { useWaxMeaning } from './wax-meaning.tsx'

export const PieceDetail = ({ index }: { index: number }) => {
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
                  decimals={scaleDecimals(shop.scales.wax.resolution_g)}
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
          {source.from === 'pattern' && (
            <DrawnPiece
              pieceId={piece.id}
              file={source.file}
              at={at}
              bytesHere={source.sha256 !== undefined}
            />
          )}
          {(source.from === 'weighed-wax' || source.from === 'volume') && sizes !== undefined && (
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
                weight, in {units.length === 'in' ? 'inches' : 'millimetres'}. It is used for fit in the flask
                and sprue size; freezing uses your thickest section.
              </p>
            </>
          )}
        </div>
        <div>
          <Stat
            name={piece.quantity > 1 ? 'As cast, each' : 'As cast'}
            size="big"
            below={weighed?.castMass && <RangeOf of={weighed.castMass} />}
          >
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

/** The way to a drawing's own page. */
const DrawnPiece = ({
  pieceId,
  file,
  at,
  bytesHere,
}: {
  pieceId: string
  file: string
  at: string
  bytesHere: boolean
}) => {
  const { pourId } = useDocuments()
  return (
    <div data-path={`${at}/source/heights`}>
      <p className="file-said">
        <b>{file}</b>
        <br />
        <span className="sm">
          {bytesHere ? 'drawing, relief and heights have a page of their own' : 'its bytes are not here'}
        </span>
      </p>
      <Link className="btn" href={`/pours/${pourId}/pattern/${pieceId}`}>
        Open the drawing
      </Link>
    </div>
  )
}

const RangeOf = ({ of }: { of: NonNullable<WeighedPiece['castMass']> }) => {
  const units = useUnits()
  return `${writeFigure({ value: of.low, unit: 'kg' }, units)} to ${writeFigure({ value: of.high, unit: 'kg' }, units)}, nine in ten`
}
