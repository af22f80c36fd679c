import { type FormEvent, useRef, useState } from 'react'
import { useLocation } from 'wouter'
import type { Piece } from '../../../../engine/documents/pour.ts'
import { Mind } from '../../../parts/mind.tsx'
import { sendModel } from '../../../state/api.ts'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { DRAWINGS, drawingTrouble, sendDrawing } from '../../../state/drawing-file.ts'
import { readTyped } from '../../../state/entry.ts'
import {
  letterOf,
  modelPiece,
  patternPiece,
  volumePiece,
  waxFor,
  weighedPiece,
} from '../../../state/new-pour.ts'

export type Way = 'scale' | 'model' | 'volume' | 'drawing'

export const AddPiece = ({ way, done }: { way: Way; done: (index: number | undefined) => void }) => {
  const { shop, pourId, changePour } = useDocuments()
  const [, go] = useLocation()
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
    if (way === 'drawing') {
      const chosen = file.current?.files?.[0]
      const wrong = drawingTrouble(chosen)
      if (chosen === undefined || wrong !== undefined) {
        setTrouble(wrong)
        return
      }
      setSending(true)
      try {
        const { file: sent, sha256, stem } = await sendDrawing(chosen)
        const piece = patternPiece(pour.pieces, {
          name: name.trim() === '' ? stem : name.trim(),
          file: sent,
          sha256,
        })
        add(piece)
        go(`/pours/${pourId}/pattern/${piece.id}`)
      } catch (error) {
        setTrouble(`${chosen.name}: ${(error as Error).message}. The file is as it was.`)
        setSending(false)
      }
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
      {way === 'drawing' ? (
        <label>
          Drawing or photo of one
          <small>
            SVG, DXF, PNG, JPEG or WebP; for a photo, lay the drawing on a card or sheet of known size
          </small>
          <input ref={file} type="file" accept={DRAWINGS} className="fld long" />
        </label>
      ) : way === 'model' ? (
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
