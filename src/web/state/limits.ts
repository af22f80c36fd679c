import type * as z from 'zod'
import { issueInWords } from '../../engine/documents/read.ts'

type Schemas = typeof import('./schemas.ts')

let loading: Promise<Schemas> | undefined
let loaded: Schemas | undefined

export const loadSchemas = (): Promise<Schemas> => {
  loading ??= import('./schemas.ts').then((schemas) => {
    loaded = schemas
    return schemas
  })
  return loading
}

/** Why a document would not do: the bound it crosses where there is one, else what is wanted. */
export interface Refusal {
  readonly least?: number
  readonly most?: number
  /** a sentence of its own, without its full stop */
  readonly what: string
  /** where in the document: `/flasks/3/wall_mm` */
  readonly where: string
}

const furthest = (branches: readonly (readonly z.core.$ZodIssue[])[]): readonly z.core.$ZodIssue[] => {
  const bounds = branches.find((issues) => issues.some((issue) => issue.code.startsWith('too_')))
  return bounds ?? branches[0] ?? []
}

/** What is counted at a place whose figure is whole, by its last key. */
const COUNTED: Readonly<Record<string, string>> = {
  quantity: ' of pieces',
  count: ' of sprues',
  faces: ' of faces',
  steps: ' of steps',
  generation: ' of melts',
  pours: ' of pours',
  spoiled: ' of pours',
}

const sentenceOf = (issue: z.core.$ZodIssue, where: string): string => {
  const key = where.split('/').at(-1) ?? ''
  if (issue.code === 'invalid_type' && issue.expected === 'int')
    return `A whole number${COUNTED[key] ?? ''} is wanted`
  const { what, remedy } = issueInWords(issue)
  return issue.code === 'custom' ? `Not so: ${what}` : `The entry ${what}: ${remedy}`
}

export const refusalIn = (issues: readonly z.core.$ZodIssue[], above = ''): Refusal | undefined => {
  for (const issue of issues) {
    const where = [above, ...issue.path.map(String)].join('/')
    if (issue.code === 'invalid_union') {
      const inner = refusalIn(furthest(issue.errors), where)
      if (inner !== undefined) return inner
    }
    const what = sentenceOf(issue, where)
    if (issue.code === 'too_big') return { most: Number(issue.maximum), what, where }
    if (issue.code === 'too_small') return { least: Number(issue.minimum), what, where }
    return { what, where }
  }
  return undefined
}

/** The schema of the calipers' sizes, key by key. */
export const readCaliperShape = (): Promise<Schemas['calipersSchema']['shape']> =>
  loadSchemas().then((schemas) => schemas.calipersSchema.shape)

/** Undefined when the document is sound. Waits for the schemas when they are not here yet. */
export const refusalOf = (
  kind: 'shop' | 'pour',
  document: unknown,
): Refusal | undefined | Promise<Refusal | undefined> => {
  const read = (schemas: Schemas): Refusal | undefined => {
    const result = (kind === 'shop' ? schemas.shopSchema : schemas.pourSchema).safeParse(document)
    return result.success ? undefined : refusalIn(result.error.issues)
  }
  return loaded === undefined ? loadSchemas().then(read) : read(loaded)
}
