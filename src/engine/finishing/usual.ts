import { root } from '../quantity/index.ts'

// What the trade just says about finishing. None of it stands in the documents, so none of it has a path.

const shareLost = {
  id: 'finish.shareLost',
  title: 'Share of a casting that finishing usually takes',
  unit: '1',
  value: 0.075,
  low: 0.03,
  high: 0.14,
  kind: 'usual',
  source:
    'common practice says 5 to 10 in 100; 1 to 3 is told for plain work, and a thin ring measured lost 16.5',
} as const

const pickleLeast = {
  id: 'finish.pickleLeast',
  title: 'Least pickle bath',
  unit: 'm3 water',
  value: 0.0005,
  kind: 'usual',
  source: 'common practice: half a litre, in a small warm pot',
} as const

const pickleCrowding = {
  id: 'finish.pickleCrowding',
  title: 'Castings to a cubic metre of bath',
  unit: 'kg/m3',
  value: 100,
  low: 60,
  high: 150,
  kind: 'usual',
  source: 'common practice: about a litre for 100 g of castings, so that it covers and turns them',
} as const

const pickleStrength = {
  id: 'finish.pickleStrength',
  title: 'Acid salt to the litre',
  unit: 'kg/m3',
  value: 100,
  low: 70,
  high: 130,
  kind: 'usual',
  source: "common practice for sodium bisulfate; the maker's sheet comes first",
  plainMass: true,
} as const

const pickleTime = {
  id: 'finish.pickleTime',
  title: 'Time in the pickle',
  unit: 's',
  value: 900,
  low: 600,
  high: 1200,
  kind: 'usual',
  source: 'common practice: 10 to 20 min, warm',
} as const

/** The trade's usual values, as roots for one plan. */
export const usualFinishing = () => ({
  shareLost: root(shareLost),
  pickleLeast: root(pickleLeast),
  pickleCrowding: root(pickleCrowding),
  pickleStrength: root(pickleStrength),
  pickleTime: root(pickleTime),
})

/** A wall thinner than this after finishing is the edge of the craft [m]. Common practice. */
export const THINNEST_FINISHED = 0.0005
/** Hotter than this the bath fumes and cracks set work [K]; the trade keeps it at 50 to 60 °C. */
export const PICKLE_TOO_HOT = 343.15
