import type { Arrangement, ArrangeRequest } from '../engine/arrange/index.ts'

export const drawArrangement = (_request: ArrangeRequest, _arrangement: Arrangement, name: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg"><title>${name}</title></svg>\n`
