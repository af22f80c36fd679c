import type { Pour } from '../engine/documents/index.ts'

/** A small whole pour; `change` replaces what the case is about. */
export const somePour = (change: Partial<Pour> = {}): Pour => ({
  kind: 'pour',
  version: 1,
  name: 'Cloak clasp',
  alloy: 'sterling',
  pieces: [
    {
      id: 'clasp',
      name: 'Clasp',
      quantity: 1,
      source: { from: 'weighed-wax', mass_g: 3.1, wax: 'carving-green' },
    },
  ],
  tree: {},
  investment: { id: 'usual', work: 'heavy', water_C: 21 },
  kiln: 'kiln',
  machine: 'arm',
  crucible: 'small',
  torch: 'torch',
  castAt: { weekday: 'saturday', time: '14:00' },
  charge: { fromStock: true },
  spin: {},
  price: { labour_h: {}, clientsMetal: false },
  ...change,
})
