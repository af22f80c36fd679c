import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'
import type * as z from 'zod'
import { readDocument } from '../engine/documents/index.ts'
import type { Fault } from './services.ts'

/** A request that cannot be answered as asked; thrown by a route, worded once in app.ts. */
export class Refusal extends Error {
  readonly status: ContentfulStatusCode
  readonly problems: readonly Fault[]
  /** what stands, beside the problem: the page shows both */
  readonly beside: Readonly<Record<string, unknown>>

  constructor(
    status: ContentfulStatusCode,
    problems: readonly Fault[],
    beside: Readonly<Record<string, unknown>> = {},
  ) {
    super(problems.map(({ what }) => what).join('; '))
    this.status = status
    this.problems = problems
    this.beside = beside
  }
}

export const refuse = (status: ContentfulStatusCode, where: string, what: string, remedy: string): Refusal =>
  new Refusal(status, [{ where, what, remedy }])

export const notFound = (where: string, what: string): Refusal =>
  refuse(404, where, `there is no ${what} here`, 'go back to the list and choose again')

export const notBuilt = (where: string, what: string): Refusal =>
  refuse(501, where, `${what} is not built yet`, 'update the program when it is')

/** A printed sheet of which nothing is kept. */
export const pdfAnswer = (context: Context, pdf: Uint8Array, name: string): Response =>
  context.body(new Uint8Array(pdf), 200, {
    'content-type': 'application/pdf',
    'content-length': String(pdf.length),
    'content-disposition': `inline; filename*=UTF-8''${encodeURIComponent(name)}`,
  })

/** The largest JSON body taken [bytes]; a pour with its shop is some tens of kilobytes. */
export const mostJson = 4 * 1024 * 1024

/** The body as JSON of the given form. @throws Refusal naming everything wrong with it */
export const readJson = async <T>(context: Context, schema: z.ZodType<T>): Promise<T> => {
  const type = context.req.header('content-type') ?? ''
  if (!/^application\/json\s*(;|$)/i.test(type))
    throw refuse(415, '', `the body is called "${type}", not JSON`, 'send it as application/json')
  const text = await context.req.text()
  const value = parse(text)
  const reading = readDocument(schema, value)
  if (!reading.ok) throw new Refusal(400, reading.problems)
  return reading.value
}

const parse = (text: string): unknown => {
  try {
    return JSON.parse(text)
  } catch (error) {
    throw refuse(
      400,
      '',
      `the body is not JSON: ${error instanceof Error ? error.message : String(error)}`,
      'send one JSON document',
    )
  }
}
