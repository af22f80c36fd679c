import type { Pour } from '../../engine/documents/pour.ts'
import { quenchMoments } from '../../engine/heat/quench.ts'
import type { Plan } from '../../engine/plan.ts'
import { PARTS, type Part } from '../../engine/quantity/answer.ts'
import type { UnitChoice } from '../../engine/quantity/units.ts'
import { writeDuration } from '../../engine/quantity/words.ts'
import { writeDayTime, writeTime } from './cast-time.ts'
import { writeFlask } from './sizes.ts'
import { writtenOut } from './written.ts'

export const PART_NAMES: Readonly<Record<Part, string>> = {
  pieces: 'Pieces',
  flask: 'Flask',
  freeze: 'Freeze',
  charge: 'Charge',
  price: 'Price',
  mix: 'Mix',
  burnout: 'Burnout',
  spin: 'Spin',
  quench: 'Quench',
  finish: 'Finish',
}

/** The one telling figure of a part, and a second half that narrow screens drop. */
export interface Caption {
  readonly first: string
  readonly second?: string
}

const counted = (count: number, one: string, many: string): string =>
  count === 1 ? `1 ${one}` : `${count} ${many}`

const OPEN: Caption = { first: 'open' }

/** Whether every wax has its sprue and all of them their main sprue: an order with some left out is none. */
const isOrdered = ({ tree, pieces }: Pick<Plan, 'tree' | 'pieces'>): boolean =>
  tree.gates.length > 0 && tree.gates.length === pieces.pieces.length && tree.stem !== undefined

export const captionOf = (part: Part, plan: Plan, units: UnitChoice): Caption => {
  const zone = plan.shop.timeZone
  switch (part) {
    case 'pieces': {
      const count = plan.pieces.pieces.reduce((total, piece) => total + piece.quantity, 0)
      const first = counted(count, 'piece', 'pieces')
      const { castMass } = plan.pieces
      return castMass === undefined ? { first } : { first, second: `, ${writtenOut(castMass, units)}` }
    }
    case 'flask':
      return plan.flask === undefined
        ? OPEN
        : { first: `${writeFlask(plan.flask.flask, units.length)} ${units.length}` }
    case 'freeze': {
      const close = plan.verdicts.filter((one) => one.part === 'freeze' && one.verdict !== 'pass').length
      if (close > 0) return { first: counted(close, 'spot', 'spots') }
      return isOrdered(plan) ? { first: 'in order' } : OPEN
    }
    case 'charge':
      return plan.needed.toWeigh === undefined ? OPEN : { first: writtenOut(plan.needed.toWeigh, units) }
    case 'price':
      return plan.price.ask === undefined ? OPEN : { first: writtenOut(plan.price.ask, units) }
    case 'mix': {
      if (plan.mix.powder === undefined) return OPEN
      const from = plan.mix.moments?.powderIn ?? plan.burnout.mixBy
      return {
        first: from === undefined ? writtenOut(plan.mix.powder, units) : `by ${writeDayTime(from, zone)}`,
      }
    }
    case 'burnout': {
      const { start, total } = plan.burnout
      if (start === undefined) return OPEN
      return {
        first: writeDayTime(start, zone),
        ...(total !== undefined && { second: `, ${Math.round(total.value / 3600)} h` }),
      }
    }
    case 'spin': {
      const run = plan.spin.time?.run
      const second = run === undefined ? {} : { second: `, ${writeDuration(run.value)}` }
      return plan.castAt === undefined ? OPEN : { first: writeTime(plan.castAt, zone), ...second }
    }
    case 'quench': {
      const { planned } = plan.quench
      const from = spinEnds(plan)
      if (planned === undefined) return OPEN
      const at = from === undefined ? undefined : quenchMoments(plan.quench, from)?.planned
      return { first: at === undefined ? writeDuration(planned) : writeTime(at, zone) }
    }
    case 'finish':
      return plan.finish.finishedMass === undefined
        ? OPEN
        : { first: writtenOut(plan.finish.finishedMass, units) }
  }
}

/** When the spin is over [ms], the zero of the quench's clock. */
export const spinEnds = (plan: Plan): number | undefined =>
  plan.castAt === undefined || plan.spin.time === undefined
    ? undefined
    : plan.castAt + plan.spin.time.run.value * 1000

export type Standing = 'stop' | 'check' | 'settled' | 'open'

/** Whether a part has an answer at all; a casting moment alone answers nothing. */
const answered = (
  part: Part,
  { pieces, flask, tree, needed, price, mix, burnout, spin, quench, finish }: Plan,
) => {
  switch (part) {
    case 'pieces':
      return pieces.castMass !== undefined && !pieces.pieces.some((piece) => piece.pending)
    case 'flask':
      return flask !== undefined
    case 'freeze':
      return isOrdered({ tree, pieces })
    case 'charge':
      return needed.toWeigh !== undefined
    case 'price':
      return price.ask !== undefined
    case 'mix':
      return mix.powder !== undefined
    case 'burnout':
      return burnout.start !== undefined
    case 'spin':
      return spin.balance !== undefined && spin.time !== undefined
    case 'quench':
      return quench.planned !== undefined
    case 'finish':
      return finish.finishedMass !== undefined
  }
}

/** Where a part stands: its worst verdict, or settled when it has an answer and nothing in it is open. */
export const standingOf = (part: Part, plan: Plan): Standing => {
  if (plan.go.stops.some((one) => one.part === part)) return 'stop'
  if (plan.go.checks.some((one) => one.part === part)) return 'check'
  return answered(part, plan) ? 'settled' : 'open'
}

export const partOf = (name: string | undefined): Part | undefined => PARTS.find((part) => part === name)

/** A drawn piece's heights, and whatever is wrong with its drawing, have a page of their own. */
const drawingAt = (path: string, pieces: Pour['pieces']): string | undefined => {
  const found = /^\/pour\/pieces\/(\d+)\/source(\/heights.*|\/carved_g|)$/.exec(path)
  const piece = found === null ? undefined : pieces[Number(found[1])]
  return piece?.source.from === 'pattern' ? piece.id : undefined
}

/** The page on which a document path is changed. */
export const pageOf = (path: string, pourId: string, pieces: Pour['pieces'] = []): string => {
  const pour = `/pours/${pourId}`
  const drawn = drawingAt(path, pieces)
  if (drawn !== undefined) return `${pour}/pattern/${drawn}`
  if (path.startsWith('/shop/lots')) return '/metal'
  if (path.startsWith('/shop')) return '/shop'
  if (/^\/pour\/pieces\/\d+\/gate/.test(path)) return `${pour}/freeze`
  if (path.startsWith('/pour/pieces') || path.startsWith('/pour/tree/weighed')) return `${pour}/pieces`
  if (path.startsWith('/pour/tree')) return `${pour}/freeze`
  if (path.startsWith('/pour/flask_C') || path.startsWith('/pour/kiln')) return `${pour}/burnout`
  if (path.startsWith('/pour/flask')) return `${pour}/flask`
  if (path.startsWith('/pour/investment')) return `${pour}/mix`
  if (path.startsWith('/pour/charge') || path.startsWith('/pour/alloy')) return `${pour}/charge`
  if (path.startsWith('/pour/crucible') || path.startsWith('/pour/torch')) return `${pour}/charge`
  if (path.startsWith('/pour/price')) return `${pour}/price`
  if (path.startsWith('/pour/spin') || path.startsWith('/pour/machine')) return `${pour}/spin`
  return pour
}
