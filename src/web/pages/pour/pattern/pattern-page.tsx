import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import { blankChecks, blankOf } from '../../../../engine/pattern/blank.ts'
import { Mind } from '../../../parts/mind.tsx'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { useNarrow } from '../../../state/narrow.ts'
import { letterOf } from '../../../state/new-pour.ts'
import { type PatternPiece, usePattern } from '../../../state/pattern-work.ts'
import { usePlan } from '../../../state/plan.tsx'
import { DrawingColumn } from './drawing-column.tsx'
import { groupRegions } from './groups.ts'
import { HardwareList } from './hardware-list.tsx'
import { Glance, Means, overOf } from './means.tsx'
import { RegionsTable } from './regions-table.tsx'
import { ReliefColumn } from './relief-column.tsx'
import { TakeOut } from './take-out.tsx'
import type { Tool } from './tools.ts'
import { useChangeHeights } from './use-heights.ts'
import { WholePiece } from './whole-piece.tsx'
import '../../../style/pattern.css'

const rounded = (ms: number | undefined): number | undefined =>
  ms === undefined ? undefined : Math.round(ms)

const Drawing = ({ piece, index, name }: { piece: PatternPiece; index: number; name: string }) => {
  const { plan } = usePlan()
  const view = usePattern(piece)
  const change = useChangeHeights(index)
  const [chosen, setChosen] = useState<string | undefined>(undefined)
  const [tool, setTool] = useState<Tool>('look')
  const [standing, setStanding] = useState(0)
  const { heights } = piece.source
  const regions = view.reading?.regions.regions
  const groups = useMemo(() => groupRegions(regions ?? [], heights), [regions, heights])
  const inGroup = groups.find((group) => group.regions.some(({ id }) => id === chosen))
  const narrow = useNarrow()
  const over = overOf(plan.pieces.pieces[index]?.drawn)
  const { relief, reading } = view
  const [blank, blankTold] = useMemo(
    () =>
      relief === undefined || reading === undefined
        ? [undefined, []]
        : [
            blankOf(relief, reading.regions, heights, over),
            blankChecks(relief, reading.regions, heights, over),
          ],
    [relief, reading, heights, over],
  )
  const flat = view.reading?.regions.bounds_mm
  return (
    <div
      className="part-page pattern-cols"
      data-read-ms={rounded(view.read_ms)}
      data-change-ms={rounded(view.change_ms)}
    >
      <DrawingColumn
        piece={piece}
        index={index}
        letter={letterOf(index)}
        name={name}
        view={view}
        groups={groups}
        chosen={inGroup?.regions.map(({ id }) => id) ?? []}
        choose={setChosen}
        change={change}
        tool={tool}
        setTool={setTool}
        standing={standing}
        beneath={narrow ? <Glance index={index} /> : undefined}
      />
      <ReliefColumn
        view={view}
        groups={groups}
        heights={heights}
        change={change}
        name={name}
        tool={tool}
        setTool={setTool}
      />
      <section aria-label="Heights and weight" className="heights-column">
        {groups.length > 0 && (
          <RegionsTable
            groups={groups}
            heights={heights}
            change={change}
            chosen={chosen}
            choose={setChosen}
          />
        )}
        <Means index={index} source={piece.source} blank={blank} checks={blankTold} />
        <TakeOut piece={piece} index={index} name={name} view={view} />
        <WholePiece heights={heights} change={change} />
        {flat && (
          <HardwareList
            heights={heights}
            change={change}
            placing={tool === 'hardware' ? standing : undefined}
            place={(which) => {
              setStanding(which)
              setTool(tool === 'hardware' && standing === which ? 'look' : 'hardware')
            }}
            middle={[(flat.min[0] + flat.max[0]) / 2, (flat.min[1] + flat.max[1]) / 2]}
          />
        )}
      </section>
    </div>
  )
}

/** One piece while it is still a drawing: drawing, relief, heights, and what they weigh and cost. */
export const PatternPage = ({ piece: wanted }: { piece: string | undefined }) => {
  const pour = usePour()
  const { pourId } = useDocuments()
  const index = pour.pieces.findIndex(({ id }) => id === wanted)
  const piece = pour.pieces[index]
  if (piece === undefined || piece.source.from !== 'pattern')
    return (
      <div className="part-page">
        <Mind level="note">
          {piece === undefined
            ? 'This pour has no such piece.'
            : `${piece.name} does not come from a drawing.`}
        </Mind>
        <Link className="do" href={`/pours/${pourId}/pieces`}>
          To the pieces
        </Link>
      </div>
    )
  const { id, name, source } = piece
  if (source.sha256 === undefined)
    return (
      <div className="part-page">
        <Mind level="stop">
          {source.file} is named by this pour, and its bytes are not here. Bring the file again on the pieces
          page.
        </Mind>
        <Link className="do" href={`/pours/${pourId}/pieces`}>
          To the pieces
        </Link>
      </div>
    )
  return <Drawing piece={{ id, source }} index={index} name={name} />
}
