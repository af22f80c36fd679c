import { useCallback, useState } from 'react'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { usePour } from '../../state/documents.tsx'
import { letterOf } from '../../state/new-pour.ts'
import { useWantedPath } from '../../state/open-path.ts'
import { AddPiece, type Way } from './pieces/add-piece.tsx'
import { AddSame } from './pieces/add-same.tsx'
import { PieceDetail } from './pieces/piece-detail.tsx'
import { PieceList } from './pieces/piece-list.tsx'
import { Tree } from './pieces/tree-weighing.tsx'

const WAYS: readonly (readonly [Way, string])[] = [
  ['scale', 'the scale'],
  ['drawing', 'a drawing'],
  ['model', 'a model file'],
  ['volume', 'a volume'],
]

const pieceIn = (path: string): number | undefined => {
  const found = /^\/pour\/pieces\/(\d+)/.exec(path)
  return found === null ? undefined : Number(found[1])
}

export const PiecesPage = () => {
  const pour = usePour()
  const [chosen, setChosen] = useState(0)
  const [way, setWay] = useState<Way | 'same' | undefined>(undefined)
  useWantedPath(
    useCallback((path: string) => {
      const wanted = pieceIn(path)
      if (wanted !== undefined) setChosen(wanted)
    }, []),
  )
  const index = Math.min(chosen, Math.max(0, pour.pieces.length - 1))
  const like = pour.pieces[index]
  return (
    <div className="part-page">
      <h2 className="vh">Pieces</h2>
      <div className="pieces-cols">
        <div>
          {pour.pieces.length === 0 ? (
            <p className="text">
              <b>No pieces.</b> Start with whichever you have: the wax on your scale, a model file, a drawing,
              or a volume.
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
            {like?.source.from === 'weighed-wax' && (
              <button
                type="button"
                className="btn"
                aria-expanded={way === 'same'}
                onClick={() => setWay(way === 'same' ? undefined : 'same')}
              >
                the same as {letterOf(index)}
              </button>
            )}
          </div>
          {way === 'same' && like !== undefined && (
            <AddSame key={like.id} like={like} leave={() => setWay(undefined)} />
          )}
          {way !== undefined && way !== 'same' && (
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
