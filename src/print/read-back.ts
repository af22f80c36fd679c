/** Reads a sheet back for its tests: the text of each page with its places, from an uncompressed file. */

export interface Written {
  readonly text: string
  readonly x: number
  /** from the foot of the page, points */
  readonly y: number
  readonly size: number
  readonly font: string
}

export interface PageRead {
  readonly width: number
  readonly height: number
  readonly written: readonly Written[]
  /** the drawing orders as they stand */
  readonly orders: string
  /** everything written, in the order written, with single spaces */
  readonly text: string
}

const latin1 = new TextDecoder('latin1')

const objectsOf = (file: string): Map<string, string> =>
  new Map(
    [...file.matchAll(/(?:^|\n)(\d+) 0 obj\n([\s\S]*?)\nendobj/g)].map(([, id = '', body = '']) => [
      id,
      body,
    ]),
  )

/** A font's glyph numbers as letters, by its ToUnicode table (PDF 32000-1, 9.10.3). */
const lettersOf = (table: string): Map<number, string> => {
  const letters = new Map<number, string>()
  for (const [, first = '', , list = ''] of table.matchAll(/<([0-9a-f]+)> <([0-9a-f]+)> \[([^\]]*)\]/gi))
    [...list.matchAll(/<([0-9a-f ]+)>/gi)].forEach(([, hex = ''], index) => {
      const units = hex.replaceAll(' ', '').match(/.{4}/g) ?? []
      letters.set(
        Number.parseInt(first, 16) + index,
        String.fromCharCode(...units.map((unit) => Number.parseInt(unit, 16))),
      )
    })
  return letters
}

const refIn = (body: string, key: string): string | undefined =>
  body.match(new RegExp(`/${key} (\\d+) 0 R`))?.[1]

export const readBack = (bytes: Uint8Array): PageRead[] => {
  const objects = objectsOf(latin1.decode(bytes))
  const at = (id: string | undefined): string => (id === undefined ? '' : (objects.get(id) ?? ''))
  const streamOf = (id: string | undefined): string =>
    at(id).match(/stream\n([\s\S]*?)\nendstream/)?.[1] ?? ''
  return [...objects.values()]
    .filter((body) => /\/Type \/Page\n/.test(body))
    .map((page) => {
      const [, , width = 0, height = 0] = (page.match(/\/MediaBox \[([^\]]*)\]/)?.[1] ?? '')
        .split(' ')
        .map(Number)
      const resources = at(refIn(page, 'Resources'))
      const fontList = resources.match(/\/Font <<([\s\S]*?)>>/)?.[1] ?? ''
      const fonts = new Map(
        [...fontList.matchAll(/\/(F\d+) (\d+) 0 R/g)].map(([, name = '', id]) => [
          name,
          {
            name: at(id).match(/\/BaseFont \/(\S+)/)?.[1] ?? '',
            letters: lettersOf(streamOf(refIn(at(id), 'ToUnicode'))),
          },
        ]),
      )
      const orders = streamOf(refIn(page, 'Contents'))
      const written: Written[] = []
      let place = { x: 0, y: 0 }
      let font = { name: '', size: 0 }
      for (const line of orders.split('\n')) {
        const moved = line.match(/^1 0 0 1 (\S+) (\S+) Tm$/)
        if (moved) place = { x: Number(moved[1]), y: Number(moved[2]) }
        const chosen = line.match(/^\/(F\d+) (\S+) Tf$/)
        if (chosen) font = { name: chosen[1] ?? '', size: Number(chosen[2]) }
        if (!line.endsWith(' TJ')) continue
        const held = fonts.get(font.name)
        const text = [...line.matchAll(/<([0-9a-f]+)>/gi)]
          .flatMap(([, hex = '']) => hex.match(/.{4}/g) ?? [])
          .map((glyph) => held?.letters.get(Number.parseInt(glyph, 16)) ?? '\ufffd')
          .join('')
        written.push({ text, ...place, size: font.size, font: held?.name ?? '' })
      }
      const text = written
        .map((one) => one.text)
        .join(' ')
        .replaceAll('\u00a0', ' ')
        .replace(/\s+/g, ' ')
      return { width, height, written, orders, text }
    })
}
