/**
 * How is the spinning arm set, and how long must it run? Balance on the burned-out flask with a stand-in to
 * set it cold, turns to speed to pressure, the run until feeds and button are solid.
 * Needs the flask's weights and height, the charge, how deep the metal reaches, and freezing times.
 * Gives counterweight, stand-in, pulls left over, pressure and its decay, run time, verdicts.
 * Does not know how freezing times come about, nor the flask's heat. Read plan-spin.ts first.
 */
export type { Balance } from './balance.ts'
export * from './plan-spin.ts'
export type { FreezingTimes, PressureAtTime, RunTime } from './run-time.ts'
