import { useDocuments } from '../../state/documents.tsx'

type ListKey = 'waxes' | 'investments' | 'kilns' | 'machines' | 'crucibles' | 'torches' | 'bases' | 'alloys'

export const without = <T,>(list: readonly T[], index: number): T[] => list.filter((_one, at) => at !== index)

export const freshId = (taken: readonly { id: string }[], stem: string): string => {
  let count = taken.length + 1
  while (taken.some(({ id }) => id === `${stem}-${count}`)) count += 1
  return `${stem}-${count}`
}

/** Another of the same, begun as a copy of the last, and taking one away; the last one stays. */
export const ListActions = ({ list, index, name }: { list: ListKey; index: number; name: string }) => {
  const { shop, changeShop } = useDocuments()
  const items = shop[list] as readonly { id: string; name?: string }[]
  const copy = (): void => {
    const from = items[index]
    if (from === undefined) return
    const made = { ...from, id: freshId(items, list), ...(from.name && { name: `${from.name}, another` }) }
    changeShop({ ...shop, [list]: [...items, made] })
  }
  return (
    <p className="row sm list-actions">
      <button type="button" className="quiet" onClick={copy}>
        Another like it<span className="vh">: {name}</span>
      </button>
      {items.length > 1 && (
        <button
          type="button"
          className="quiet"
          onClick={() => changeShop({ ...shop, [list]: without(items, index) })}
        >
          Take it away<span className="vh">: {name}</span>
        </button>
      )}
    </p>
  )
}
