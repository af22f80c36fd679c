import { celsius } from '../../quantity/index.ts'
import type { HotFlask } from './hot-flask.ts'

/** Sterling in a 3 × 3½ in flask. */
export const smallFlask: HotFlask = {
  radius: 0.0381,
  height: 0.0889,
  dryInvestment: 0.492,
  steel: 0.267,
  charge: 0.14,
  mouldHeat: 1000,
  conductivity: 0.45,
  metalHeat: 323,
  freezingHeat: 150e3,
  metalDensity: 10360,
  solidAt: celsius(779),
  liquidus: celsius(896),
  superheat: 85,
  pour: celsius(981),
  mould: celsius(482),
  air: celsius(20),
  airTakes: 10,
  spinTakes: 40,
  emissivity: 0.8,
  ends: 0.75,
  metalAt: 0.5,
  spin: 60,
  kilnToPour: 45,
}
