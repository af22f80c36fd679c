import { type Table, tableAt } from './curves.ts'

/** What a side of the body meets. Tables run over time [s]; a coefficient and emissivity of 0 insulate. */
export type Surroundings =
  | {
      /** W/m2K */
      readonly heatTransfer: number
      readonly emissivity: number
      /** K, of the air and of the walls around */
      readonly ambient: Table
    }
  | { readonly held: Table }

/** The table behind a side's surroundings, over time [s]. */
export const tableOf = (one: Surroundings): Table => ('held' in one ? one.held : one.ambient)

/** The moments [s] at which some table bends. */
export const bendsOf = (surroundings: readonly Surroundings[]): number[] => {
  const all = surroundings.flatMap((one) => {
    const table = tableOf(one)
    return typeof table === 'number' ? [] : table.map(([at]) => at)
  })
  return [...new Set(all)].sort((a, b) => a - b)
}

/** Whether nothing outside changes from one moment to another between which no table bends. */
export const steady = (surroundings: readonly Surroundings[], from: number, to: number): boolean =>
  surroundings.every((one) => {
    const table = tableOf(one)
    return typeof table === 'number' || tableAt(table, from) === tableAt(table, to)
  })
