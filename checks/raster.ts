import { PDFiumLibrary } from '@hyzyla/pdfium'

/** A page as ink on paper, rendered by a library that is no part of the program; and its text. */
export interface Raster {
  readonly width: number
  readonly height: number
  /** 0 black to 255 white */
  readonly grey: Uint8Array
  /** dots to a millimetre; the library rounds a page to whole points and stretches it to that */
  readonly perMm: { readonly across: number; readonly down: number }
  readonly text: string
}

const DPI = 600

/** Renders pages at 600 dots an inch; all of them, or those whose numbers (from 1) are given. */
export const rasterise = async (pdf: Uint8Array, wanted?: readonly number[]): Promise<Raster[]> => {
  const library = await PDFiumLibrary.init()
  try {
    const document = await library.loadDocument(pdf)
    const pages: Raster[] = []
    let number = 0
    for (const page of document.pages()) {
      number += 1
      if (wanted !== undefined && !wanted.includes(number)) continue
      // rendering closes the page, so its text and size are read before
      const text = page.getText()
      const { originalWidth, originalHeight } = page.getOriginalSize()
      const { width, height, data } = await page.render({
        scale: DPI / 72,
        colorSpace: 'Gray',
        render: ({ data }) => Promise.resolve(data),
      })
      const perMm = {
        across: (width / originalWidth) * (72 / 25.4),
        down: (height / originalHeight) * (72 / 25.4),
      }
      pages.push({ width, height, grey: Uint8Array.from(data), perMm, text })
    }
    document.destroy()
    return pages
  } finally {
    library.destroy()
  }
}

/**
 * The middles of the inked stretches along a level or upright line across the page, in millimetres, each to a
 * fraction of a dot by how dark its dots are. Only what lies between `from` and `to` counts.
 */
export const inkAlong = (
  { width, height, grey, perMm }: Raster,
  way: 'across' | 'down',
  at_mm: number,
  from_mm = 0,
  to_mm = Infinity,
): number[] => {
  const line = Math.round(at_mm * (way === 'across' ? perMm.down : perMm.across) - 0.5)
  const dots = way === 'across' ? width : height
  const found: number[] = []
  let sum = 0
  let weight = 0
  for (let i = 0; i <= dots; i += 1) {
    const place = way === 'across' ? line * width + i : i * width + line
    const dark = i < dots ? 255 - (grey[place] ?? 255) : 0
    if (dark > 20) {
      sum += dark * (i + 0.5)
      weight += dark
    } else if (weight > 0) {
      const middle = sum / weight / perMm[way]
      if (middle >= from_mm && middle <= to_mm) found.push(middle)
      sum = 0
      weight = 0
    }
  }
  return found
}
