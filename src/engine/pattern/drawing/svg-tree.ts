import { SaxesParser } from 'saxes'
import type { PatternProblem } from '../drawing.ts'
import { drawingProblems, type Said } from './problems.ts'

export interface Element {
  /** without its namespace's prefix */
  readonly name: string
  readonly attributes: ReadonlyMap<string, string>
  readonly children: readonly Element[]
  readonly line: number
}

interface OpenElement extends Element {
  readonly children: OpenElement[]
}

export interface SvgTree {
  readonly root: Element
  readonly byId: ReadonlyMap<string, Element>
  /** text of its style sheets, in order */
  readonly styles: readonly string[]
}

const SVG = 'http://www.w3.org/2000/svg'
const XLINK = 'http://www.w3.org/1999/xlink'
const DEEPEST = 200

/** How a problem names an element: its id, or its line in the file. */
export const whereOf = ({ name, attributes, line }: Element): string => {
  const id = attributes.get('id')
  return id === undefined ? `${name}, line ${line}` : `"${id.slice(0, 80)}"`
}

/**
 * The elements of an SVG file. Nothing is fetched or run: scripts, event handlers and processing instructions
 * are left out and said, a document type with entities of its own stops the reading.
 */
export const readTree = (text: string, said: Said): SvgTree | PatternProblem => {
  const parser = new SaxesParser({ xmlns: true, position: true })
  const byId = new Map<string, Element>()
  const styles: string[] = []
  const open: OpenElement[] = []
  let root: OpenElement | undefined
  let failed: PatternProblem | undefined
  let skipped = 0
  let style: string | undefined
  const here = (): string => `line ${parser.line}`
  parser.on('error', () => {
    failed ??= drawingProblems.broken(
      `the file is damaged or breaks off at line ${parser.line}, so that no drawing can be read from it`,
      here(),
    )
  })
  parser.on('doctype', (doctype) => {
    if (/<!ENTITY/i.test(doctype)) failed ??= drawingProblems.entities(here())
  })
  parser.on('processinginstruction', ({ target, body }) => {
    if (target === 'xml-stylesheet')
      said.say(drawingProblems.external(/href\s*=\s*["']([^"']*)/.exec(body)?.[1] ?? 'a style sheet', here()))
  })
  parser.on('opentag', (tag) => {
    if (failed) return
    if (skipped > 0 || (tag.uri !== SVG && tag.uri !== '') || open.length >= DEEPEST) {
      if (open.length >= DEEPEST)
        failed = drawingProblems.broken('its groups lie too deep in one another', here())
      skipped += 1
      return
    }
    if (root === undefined && tag.local !== 'svg') {
      failed = drawingProblems.broken('its first element is not "svg"', here())
      return
    }
    if (tag.local === 'script') {
      said.say(drawingProblems.script(here()))
      skipped += 1
      return
    }
    const attributes = new Map<string, string>()
    for (const { local, uri, value } of Object.values(tag.attributes)) {
      if (/^on/i.test(local)) said.say(drawingProblems.script(here()))
      else if (uri === '') attributes.set(local, value)
      else if (uri === XLINK && local === 'href' && !attributes.has('href')) attributes.set('href', value)
    }
    const element: OpenElement = { name: tag.local, attributes, children: [], line: parser.line }
    const id = attributes.get('id')
    if (id !== undefined && !byId.has(id)) byId.set(id, element)
    open.at(-1)?.children.push(element)
    root ??= element
    open.push(element)
    if (tag.local === 'style') style = ''
  })
  const addText = (part: string): void => {
    if (style !== undefined && skipped === 0) style += part
  }
  parser.on('text', addText)
  parser.on('cdata', addText)
  parser.on('closetag', () => {
    if (failed) return
    if (skipped > 0) {
      skipped -= 1
      return
    }
    if (open.pop()?.name === 'style' && style !== undefined) {
      styles.push(style)
      style = undefined
    }
  })
  for (let at = 0; at < text.length && !failed; at += 65_536) parser.write(text.slice(at, at + 65_536))
  if (!failed) parser.close()
  if (failed) return failed
  return root === undefined
    ? drawingProblems.broken('it holds no drawing', 'the file')
    : { root, byId, styles }
}
