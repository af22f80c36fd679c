import type { CastableFindings, CastableSpot } from '../../../../engine/pattern/castable/index.ts'
import { Mind } from '../../../parts/mind.tsx'
import { useLengths } from './use-heights.ts'

const KINDS: Readonly<Record<CastableSpot['kind'], string>> = {
  'too-thin': 'Too thin',
  'too-thick': 'Too thick',
  undercut: 'Undercut',
  'sharp-corner': 'Sharp corner',
  'narrow-groove': 'Narrow groove',
}

/** a, b, c: how a spot is called on the relief and in the list. */
export const spotLetter = (index: number): string => 'abcdefghijklmnopqrstuvwxyz'[index] ?? String(index + 1)

const MOST_SHOWN = 12

/** Spots in the order of the list, as many as have a letter. */
export const spotsShown = (castable: CastableFindings): readonly CastableSpot[] =>
  castable.spots.slice(0, MOST_SHOWN)

const ended = (text: string): string => {
  const whole = text.charAt(0).toUpperCase() + text.slice(1)
  return /[.!?]$/.test(whole) ? whole : `${whole}.`
}

/** Where the relief is hard to cast, by letters; or that nothing was found, and what that rests on. */
export const CastableSpots = ({ castable, behind }: { castable: CastableFindings; behind: boolean }) => {
  const { write, label, say } = useLengths()
  const { thickness_mm, thin_mm, spots } = castable
  const shown = spotsShown(castable)
  return (
    <section aria-label="Hard to cast" className={behind ? 'castable old' : 'castable'}>
      {thickness_mm !== null && (
        <p className="sm walls-said">
          Walls {write(thickness_mm.thinnest)} to {write(thickness_mm.thickest)} {label}, usually{' '}
          {write(thickness_mm.usual)}.
        </p>
      )}
      {spots.length === 0 ? (
        <Mind level="note">
          Nowhere under {write(thin_mm)} {label}, and no undercut, narrow groove or sharp corner found. Limits
          are common practice, not a promise.
        </Mind>
      ) : (
        <ol className="spots">
          {shown.map((spot, index) => (
            <li key={spotLetter(index)}>
              <Mind level="check">
                <b>
                  {spotLetter(index)}, {KINDS[spot.kind].toLowerCase()}
                </b>{' '}
                at {write(spot.at_mm[0])}, {write(spot.at_mm[1])} {label}. {ended(say(spot.words))}{' '}
                {ended(say(spot.remedy))}
              </Mind>
            </li>
          ))}
        </ol>
      )}
      {spots.length > shown.length && (
        <p className="sm muted">and {spots.length - shown.length} more, less grave.</p>
      )}
    </section>
  )
}

/** What tones, lines and hatching say where walls are shown. */
export const WallsKey = ({ castable }: { castable: CastableFindings }) => {
  const { write, label } = useLengths()
  const { thin_mm, thick_mm } = castable
  return (
    <p className="walls-key">
      <span>darker: thicker; lines half a millimetre apart</span>
      <span>
        hatched: under {write(thin_mm)} {label}
      </span>
      {Number.isFinite(thick_mm) && (
        <span>
          cross-hatched: over {write(thick_mm)} {label}
        </span>
      )}
    </p>
  )
}
