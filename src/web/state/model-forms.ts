import { useEffect, useMemo, useSyncExternalStore } from 'react'
import type { Piece } from '../../engine/documents/pour.ts'
import type { ModelForm, Triangles } from '../scene/model-form.ts'
import { meshOfDrawing, onMeshKept } from './drawn-meshes.ts'

/** A shape to draw, or why there is none: the first is said in a caption, the other where the file is measured. */
type Drawn = ModelForm | 'too large' | 'unreadable'

interface Wanted {
  readonly sha256: string
  readonly file: string
  readonly units: 'mm' | 'in' | undefined
  readonly acceptRepair: boolean
}

/** A file past this is not read for the sake of a drawing. */
const MOST_BYTES = 8_000_000

const known = new Map<string, Drawn>()
const asked = new Set<string>()
const listeners = new Set<() => void>()
let version = 0
let queue: Promise<void> = Promise.resolve()

const keyOf = ({ sha256, units, acceptRepair }: Wanted): string => `${sha256} ${units} ${acceptRepair}`

const draw = async ({ sha256, file, units, acceptRepair }: Wanted): Promise<Drawn> => {
  const [mesh, { formOf, MOST_TRIANGLES }, bytes] = await Promise.all([
    import('../../engine/piece/mesh/index.ts'),
    import('../scene/model-form.ts'),
    fetch(`/api/models/${sha256}`).then((response) => {
      if (!response.ok) throw new Error(`the local server answered ${response.status}`)
      return response.arrayBuffer()
    }),
  ])
  if (bytes.byteLength > MOST_BYTES) return 'too large'
  const reading = mesh.readModel(new Uint8Array(bytes), file)
  if (reading.mesh.corners.length / 3 > MOST_TRIANGLES) return 'too large'
  const scale = mesh.millimetresPer[reading.units ?? units ?? 'mm']
  // a repair is part of the piece once accepted; measuring finds it again
  const welded = acceptRepair
    ? mesh.measureReading(reading, file, { ...(units !== undefined && { units }), acceptRepair }).mesh
    : mesh.weldExactly({ ...reading.mesh, positions: reading.mesh.positions.map((value) => value * scale) })
        .mesh
  return formOf(welded) ?? 'unreadable'
}

const formsOfDrawings = new WeakMap<Triangles, Drawn>()

const tell = (): void => {
  version += 1
  for (const listener of listeners) listener()
}

onMeshKept(tell)

/** A drawing's solid is built for its weight already: it is only made ready to be drawn, one after another. */
const askDrawn = (mesh: Triangles): void => {
  if (formsOfDrawings.has(mesh)) return
  // not asked for twice while it waits
  formsOfDrawings.set(mesh, 'unreadable')
  queue = queue
    .then(() => import('../scene/model-form.ts'))
    .then(({ formOf, MOST_TRIANGLES }): Drawn => {
      if (mesh.corners.length / 3 > MOST_TRIANGLES) return 'too large'
      return formOf(mesh) ?? 'unreadable'
    })
    .catch((): Drawn => 'unreadable')
    .then((drawn) => {
      formsOfDrawings.set(mesh, drawn)
      tell()
    })
}

const ask = (wanted: Wanted): void => {
  const key = keyOf(wanted)
  if (asked.has(key)) return
  asked.add(key)
  // one after another, so that a list of many models never holds up the page
  queue = queue
    .then(() => draw(wanted))
    .catch((): Drawn => 'unreadable')
    .then((drawn) => {
      known.set(key, drawn)
      tell()
    })
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

const wantedOf = ({ source }: Piece): Wanted | undefined =>
  source.from === 'mesh' && source.sha256 !== undefined
    ? {
        sha256: source.sha256,
        file: source.file,
        units: source.units,
        acceptRepair: source.acceptRepair === true,
      }
    : undefined

const drawnOf = (piece: Piece): Drawn | undefined => {
  if (piece.source.from === 'pattern') {
    const mesh = meshOfDrawing(piece.source)
    return mesh && formsOfDrawings.get(mesh)
  }
  const wanted = wantedOf(piece)
  return wanted && known.get(keyOf(wanted))
}

export interface ModelForms {
  /** models ready to be drawn, by the piece's id */
  readonly forms: ReadonlyMap<string, ModelForm>
  /** pieces whose models have too many triangles to be drawn, by their id */
  readonly tooLarge: ReadonlySet<string>
}

/** The models and drawings among these pieces whose shape can be shown by now; asks for those that cannot yet. */
export const useModelForms = (pieces: readonly Piece[]): ModelForms => {
  const now = useSyncExternalStore(subscribe, () => version)
  // biome-ignore lint/correctness/useExhaustiveDependencies: a drawing's solid comes with a new version
  useEffect(() => {
    for (const piece of pieces) {
      const wanted = wantedOf(piece)
      if (wanted !== undefined) ask(wanted)
      const mesh = piece.source.from === 'pattern' ? meshOfDrawing(piece.source) : undefined
      if (mesh !== undefined) askDrawn(mesh)
    }
  }, [pieces, now])
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is known changes with its version
  return useMemo(() => {
    const forms = new Map<string, ModelForm>()
    const tooLarge = new Set<string>()
    for (const piece of pieces) {
      const drawn = drawnOf(piece)
      if (drawn === 'too large') tooLarge.add(piece.id)
      else if (drawn !== undefined && drawn !== 'unreadable') forms.set(piece.id, drawn)
    }
    return { forms, tooLarge }
  }, [pieces, now])
}
