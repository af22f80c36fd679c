import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

/** The sheet's faces as the bytes of their files; each with a second file for letters beyond Western Europe. */
export type SheetFonts = Readonly<Record<string, Uint8Array>>

const FILES: readonly (readonly [name: string, family: 'archivo' | 'besley', weight: number])[] = [
  ['regular', 'archivo', 400],
  ['semibold', 'archivo', 600],
  ['bold', 'archivo', 700],
  ['serif', 'besley', 600],
]

/** Reads the faces from the installed font packages; found from wherever this file, or its bundle, lies. */
export const readSheetFonts = async (): Promise<SheetFonts> => {
  const require = createRequire(import.meta.url)
  const found = await Promise.all(
    FILES.flatMap(([name, family, weight]) => {
      const folder = join(dirname(require.resolve(`@fontsource/${family}/package.json`)), 'files')
      return [
        ['', 'latin'],
        ['-extended', 'latin-ext'],
      ].map(
        async ([ending, script]): Promise<[string, Uint8Array]> => [
          `${name}${ending}`,
          await readFile(join(folder, `${family}-${script}-${weight}-normal.woff`)),
        ],
      )
    }),
  )
  return Object.fromEntries(found)
}
