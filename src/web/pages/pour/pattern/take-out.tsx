import { useState } from 'react'
import type { PatternProblem } from '../../../../engine/pattern/drawing.ts'
import { unitsUnsaid } from '../../../../engine/pattern/read-pattern.ts'
import type { TemplateLayout } from '../../../../engine/pattern/template/index.ts'
import { Mind } from '../../../parts/mind.tsx'
import { Swap } from '../../../parts/swap.tsx'
import { addressOf, letGoOf } from '../../../state/address.ts'
import { printTemplate } from '../../../state/api.ts'
import { useDocuments } from '../../../state/documents.tsx'
import { PAPERS, type Paper, usePaper } from '../../../state/paper.ts'
import type { PatternPiece, PatternView } from '../../../state/pattern-work.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { PatternProblems } from './drawing-column.tsx'
import { LengthEntry } from './length-entry.tsx'
import { overOf } from './means.tsx'

interface Printed {
  /** everything that the sheet rests on */
  readonly of: string
  readonly state: 'ready' | 'printing' | { readonly sheet: string } | { readonly trouble: string }
}

const MM_PER_IN = 25.4

const KINDS = {
  SVG: 'image/svg+xml',
  DXF: 'application/dxf',
  STL: 'model/stl',
  '3MF': 'model/3mf',
} as const

/** Inches between these are what a 100 mm bar can measure: 3.94 is 100. */
const SAID_IN_INCHES = 10

type FileKind = keyof typeof KINDS

const save = (file: string, type: string, content: string | Uint8Array): void => {
  const url = addressOf(content, type)
  const link = document.createElement('a')
  link.href = url
  link.download = file
  link.click()
  letGoOf(url)
}

/** The template on paper, the lines for a cutter, and the solid for those who mill or print the wax. */
export const TakeOut = ({
  piece,
  index,
  name,
  view,
}: {
  piece: PatternPiece
  index: number
  name: string
  view: PatternView & { readonly behind: boolean }
}) => {
  const { pourId = '', keepNow } = useDocuments()
  const { plan } = usePlan()
  const units = useUnits()
  const [paper, setPaper] = usePaper()
  const [bar, setBar] = useState<number | undefined>(undefined)
  const [printed, setPrinted] = useState<Printed | undefined>(undefined)
  const [problems, setProblems] = useState<readonly PatternProblem[]>([])
  const drawn = plan.pieces.pieces[index]?.drawn
  const over = overOf(drawn)
  const percent = ((over - 1) * 100).toFixed(1)
  const { relief, reading } = view
  const { heights } = piece.source
  const unsaid = reading !== undefined && unitsUnsaid(reading, heights) !== undefined
  const ready = relief !== undefined && reading !== undefined && !view.behind && !unsaid
  // a sheet stands only for what it was printed from: after any change it is printed anew
  const of = JSON.stringify([heights, over, paper, bar, units.length, name])
  const state = printed?.of === of ? printed.state : 'ready'
  const setState = (next: Printed['state']): void => setPrinted({ of, state: next })

  const print = async (): Promise<void> => {
    setState('printing')
    try {
      await keepNow()
      const pdf = await printTemplate(pourId, piece.id, { paper, units, bar_mm: bar })
      const sheet = URL.createObjectURL(new Blob([pdf], { type: 'application/pdf' }))
      setState({ sheet })
      window.open(sheet, '_blank')
    } catch (error) {
      setState({ trouble: (error as Error).message })
    }
  }
  const layOut = async (): Promise<TemplateLayout | undefined> => {
    if (reading === undefined || relief === undefined) return undefined
    const { templateOf } = await import('../../../../engine/pattern/template-of.ts')
    return templateOf(reading, relief, heights, {
      name,
      paper: paper === 'A4' ? 'a4' : 'letter',
      unit: units.length,
      compensation: { shrink: 1 - 1 / over },
      ...(bar !== undefined && { bar_mm: bar }),
    })
  }
  const keep = (kind: FileKind, content: string | Uint8Array): void =>
    save(`${name}.${kind.toLowerCase()}`, KINDS[kind], content)
  const write = async (kind: FileKind): Promise<void> => {
    if (kind === 'STL' || kind === '3MF') {
      if (relief === undefined) return
      if (kind === 'STL') {
        const { writeStl } = await import('../../../../engine/pattern/write-stl.ts')
        keep(kind, writeStl(relief.mesh, over))
      } else {
        const { write3mf } = await import('../../../../engine/pattern/write-3mf.ts')
        keep(kind, write3mf(relief.mesh, over, heights.filing_mm))
      }
      return
    }
    const layout = await layOut()
    if (layout === undefined) return
    setProblems(layout.problems)
    if (kind === 'SVG') {
      const { templateSvg } = await import('../../../../engine/pattern/write-svg.ts')
      keep(kind, templateSvg(layout))
    } else {
      const { templateDxf } = await import('../../../../engine/pattern/write-dxf.ts')
      keep(kind, templateDxf(layout))
    }
  }
  return (
    <section aria-label="Template" className="take-out" id="template">
      {typeof state === 'object' && 'sheet' in state ? (
        <a className="btn go" href={state.sheet} target="_blank" rel="noreferrer" download={`${name}.pdf`}>
          Open the template
        </a>
      ) : (
        <button
          type="button"
          className="btn go"
          disabled={!ready || state === 'printing'}
          onClick={() => void print()}
        >
          {state === 'printing'
            ? 'Printing'
            : drawn === undefined
              ? 'Print the template'
              : over > 1
                ? `Print the template, ${percent}% over`
                : 'Print the template, as drawn'}
        </button>
      )}
      {typeof state === 'object' && 'trouble' in state && (
        <Mind level="check" live>
          Not printed: {state.trouble}.
        </Mind>
      )}
      <p className="row paper-row">
        <span className="lb">Paper</span>
        <Swap<Paper> label="Paper of the template" choices={PAPERS} current={paper} onChoose={setPaper} />
      </p>
      <p className="sm muted">
        The 100 mm bar of the last print measured{' '}
        <LengthEntry
          title="The 100 mm bar measured"
          metric
          value={bar}
          least={95}
          most={105}
          empty="100 mm, so nothing is put right"
          meant={(typed) => (typed < SAID_IN_INCHES ? typed * MM_PER_IN : typed)}
          onChange={setBar}
          onEmpty={() => setBar(undefined)}
        />
      </p>
      <p className="row files">
        <span className="lb">At the size of the wax, as a file</span>
        {(Object.keys(KINDS) as FileKind[]).map((kind) => (
          <button
            key={kind}
            type="button"
            className="btn thin"
            disabled={!ready}
            onClick={() => void write(kind)}
          >
            {kind}
          </button>
        ))}
      </p>
      <p className="row files">
        <span className="lb">The heights, for the command line</span>
        <button
          type="button"
          className="btn thin"
          onClick={() =>
            save(`${name}, heights.json`, 'application/json', `${JSON.stringify(heights, undefined, 2)}\n`)
          }
        >
          Save the heights
        </button>
      </p>
      <PatternProblems problems={problems.filter(({ where }) => where !== 'blank_mm')} />
      <Mind level="caution">
        Carve with the blade going away from your hands, and keep wax dust out of your breath: cut damp, or
        with a dust mask that its maker rates for it.
      </Mind>
    </section>
  )
}
