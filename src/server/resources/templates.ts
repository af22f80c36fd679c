import { Hono } from 'hono'
import { isBar, SAY_BAR } from '../../engine/pattern/template/printer.ts'
import type { Store } from '../../store/index.ts'
import { notBuilt, notFound, pdfAnswer, Refusal, refuse } from '../answers.ts'
import type { Services } from '../services.ts'
import { present } from './pours.ts'
import { readShopOf } from './shop.ts'

const oneOf = <T extends string>(
  name: string,
  asked: string | undefined,
  allowed: readonly [T, ...T[]],
): T => {
  const found = allowed.find((each) => each === (asked ?? allowed[0]).toLowerCase())
  if (found === undefined)
    throw refuse(400, name, `"${asked}" is not a ${name} of a template`, `ask for ${allowed.join(' or ')}`)
  return found
}

const barOf = (asked: string | undefined): number | undefined => {
  if (asked === undefined) return undefined
  const bar = Number(asked)
  if (isBar(bar)) return bar
  throw refuse(400, 'bar_mm', `"${asked}" is not what a 100 mm bar can measure`, SAY_BAR)
}

/** `POST /api/pours/:id/pieces/:piece/template`, a PDF at true size; nothing is kept of it. */
export const templateRoutes = (store: Store, services: Services, now: () => Date): Hono =>
  new Hono().post('/:id/pieces/:piece/template', async (context) => {
    const { template } = services
    if (template === undefined) throw notBuilt('/template', 'printing a template')
    const { id, piece: pieceId } = context.req.param()
    const { pour } = present(await store.pours.read(id), id)
    const piece = pour.pieces.find((each) => each.id === pieceId)
    if (piece === undefined) throw notFound(`/pours/${id}/pieces/${pieceId}`, 'such piece')
    const { shop } = await readShopOf(store, id)
    const printed = await template({
      piece,
      pour,
      shop,
      paper: oneOf('paper', context.req.query('paper'), ['a4', 'letter']),
      unit: oneOf('unit', context.req.query('unit'), ['mm', 'in']),
      bar_mm: barOf(context.req.query('bar_mm')),
      now: now(),
      readModel: store.models.read,
    })
    if (!printed.ok) throw new Refusal(400, printed.problems)
    return pdfAnswer(context, printed.pdf, `${piece.name}, template.pdf`)
  })
