import type { MeshFacts } from '../../engine/piece/mesh-facts.ts'

interface Triangles {
  readonly positions?: ArrayLike<number>
  readonly indices?: ArrayLike<number>
}

/** What the server answers of a model file; only what the page reads. */
export interface ModelAnswer {
  readonly file?: string
  readonly units?: 'mm' | 'in'
  readonly unitsAssumed?: boolean
  readonly closed?: boolean
  readonly triangles?: number
  readonly volume_mm3: number | null
  readonly area_mm2: number | null
  readonly bounds_mm: { readonly min: readonly number[]; readonly max: readonly number[] } | null
  readonly thickness_mm?: { readonly p05: number; readonly p95: number } | null
  readonly problems: readonly {
    readonly level?: 'note' | 'check' | 'stop'
    readonly what: string
    readonly where: string
    readonly remedy: string
  }[]
  readonly repair?: {
    readonly accepted: boolean
    readonly volume_mm3: number
    readonly steps: readonly string[]
    readonly patchArea_mm2?: number
    readonly patchShare?: number
    readonly patch?: Triangles
  } | null
}

/** What the plan takes from it; notes are left out, since they ask nothing of the caster. */
export const factsOf = (answer: ModelAnswer): MeshFacts => ({
  volume_mm3: answer.volume_mm3,
  area_mm2: answer.area_mm2,
  bounds_mm: answer.bounds_mm,
  thickness_mm: answer.thickness_mm
    ? { thinnest: answer.thickness_mm.p05, thickest: answer.thickness_mm.p95 }
    : null,
  problems: answer.problems
    .filter((problem) => problem.level !== 'note')
    .map(({ what, where, remedy }) => ({ what, where, remedy })),
})
