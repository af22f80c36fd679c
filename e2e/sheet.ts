import { execFile } from 'node:child_process'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import type { Page } from 'playwright-core'
import { ask } from './steps.ts'

export interface Sheet {
  readonly id: string
  readonly bytes: Buffer
  /** as a reader of PDF finds it; undefined where this computer has none */
  readonly text: string | undefined
  /** the plan kept with the sheet */
  readonly plan: unknown
}

const textOf = async (bytes: Buffer): Promise<string | undefined> => {
  const folder = await mkdtemp(join(tmpdir(), 'pourwright-sheet-'))
  try {
    const file = join(folder, 'sheet.pdf')
    await writeFile(file, bytes)
    const { stdout } = await promisify(execFile)('pdftotext', ['-layout', file, '-'])
    return stdout
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined
    throw error
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/** Presses for the run sheet and reads back what was printed. */
export const printSheet = async (page: Page, press: () => Promise<void>): Promise<Sheet> => {
  const printed = page.waitForResponse((response) => response.url().endsWith('/print'))
  await press()
  const { id } = (await (await printed).json()) as { id: string }
  await page.getByRole('link', { name: 'Open the printed sheet' }).waitFor()
  const at = (path: string): string => new URL(`/api/prints/${path}`, page.url()).href
  const bytes = await (await ask(page, at(`${id}.pdf`))).body()
  const { plan } = (await (await ask(page, at(id))).json()) as { plan: unknown }
  return { id, bytes, text: await textOf(bytes), plan }
}
