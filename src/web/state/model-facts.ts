import type { MeasuredShape } from '../../engine/piece/mesh-facts.ts'

interface Triangles {
  readonly positions?: ArrayLike<number>
  readonly indices?: ArrayLike<number>
}

/** What the server answers of a model file; only what the page reads. */
export interface ModelAnswer extends MeasuredShape {
  readonly file?: string
  readonly units?: 'mm' | 'in'
  readonly unitsAssumed?: boolean
  readonly closed?: boolean
  readonly triangles?: number
  readonly repair?: {
    readonly accepted: boolean
    readonly volume_mm3: number
    readonly steps: readonly string[]
    readonly patchArea_mm2?: number
    readonly patchShare?: number
    readonly patch?: Triangles
  } | null
}
