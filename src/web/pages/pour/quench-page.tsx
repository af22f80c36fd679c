import { quenchMoments } from '../../../engine/heat/quench.ts'
import { writeDuration } from '../../../engine/quantity/words.ts'
import { Asked } from '../../parts/asked.tsx'
import { Figure } from '../../parts/figure.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { Say } from '../../parts/say.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { QuenchChart } from '../../scene/quench-chart.tsx'
import { spinEnds } from '../../state/captions.ts'
import { writeTime } from '../../state/cast-time.ts'
import { useDocuments } from '../../state/documents.tsx'
import { useNarrow } from '../../state/narrow.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

export const QuenchPage = () => {
  const { plan, find } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const narrow = useNarrow()
  const { quench } = plan
  const zone = shop.timeZone
  const ends = spinEnds(plan)
  const moments = ends === undefined ? undefined : quenchMoments(quench, ends)
  const clock = (seconds: number, at: number | undefined): string =>
    at === undefined ? writeDuration(seconds) : writeTime(at, zone)
  return (
    <div className="part-page cols2">
      <section aria-label="After the spin">
        <h2 className="sh">
          After the spin, in still air{' '}
          {ends !== undefined && <small>spin ends {writeTime(ends, zone)}</small>}
        </h2>
        {quench.curve === undefined ? (
          <p className="text">
            <b>The window is open.</b> It needs the flask, the mix and the charge.
          </p>
        ) : (
          <QuenchChart
            quench={quench}
            opensAt={find('/shop/finishing/quenchOpens_C')}
            closesAt={find('/shop/finishing/quenchCloses_C')}
            units={units}
            narrow={narrow}
          />
        )}
        <p className="sm text">
          <Say words={quench.reasons.opens} /> <Say words={quench.reasons.closes} />
        </p>
        <p className="sm muted text">
          {quench.crossCheck !== undefined && (
            <>
              <Say words={quench.crossCheck.words} />{' '}
            </>
          )}
          {quench.byRuleMeanwhile && quench.curve !== undefined && 'By two lumps of heat, being worked out. '}
          <Say words={quench.practice.words} />
        </p>
      </section>
      <section aria-label="When and how">
        <div className="frame">
          <h2>Visible red outranks any clock</h2>
          <p>
            <Say words={quench.redFirst.length > 0 ? trimmed(quench.redFirst) : []} />
          </p>
        </div>
        <div className="fig after">
          {quench.planned !== undefined && (
            <Stat name="Planned" size="big" below={`${writeDuration(quench.planned)} after the spin`}>
              {clock(quench.planned, moments?.planned)}
            </Stat>
          )}
          {quench.window !== undefined && (
            <Stat
              name={quench.window.sure ? 'Sure from and to' : 'No moment is sure'}
              below={`${writeDuration(quench.window.from)} to ${writeDuration(quench.window.to)}`}
            >
              {clock(quench.window.from, moments?.opens)} to {clock(quench.window.to, moments?.closes)}
            </Stat>
          )}
        </div>
        <FigureRows label="The window">
          <FigureRow
            name="Opens, after the spin"
            about={
              <>
                castings below <Asked path="/shop/finishing/quenchOpens_C" title="Quench opens at" />
              </>
            }
          >
            <Figure of={quench.opens} range />
          </FigureRow>
          <FigureRow
            name="Closes, after the spin"
            about={
              <>
                castings and the mould round them below{' '}
                <Asked path="/shop/finishing/quenchCloses_C" title="Quench closes at" />
              </>
            }
          >
            <Figure of={quench.closes} range />
          </FigureRow>
        </FigureRows>
        <FigureRows label="Bucket">
          <FigureRow name="Water, steel bucket, at least">
            <Figure of={quench.bucket} />
          </FigureRow>
          <FigureRow name="Silica mud, to the tip" about="not the drain">
            <Figure of={quench.mud} />
          </FigureRow>
        </FigureRows>
        <PartVerdicts part="quench" />
      </section>
    </div>
  )
}

/** The rule's own first words stand as the heading already. */
const trimmed = (words: Parameters<typeof Say>[0]['words']): Parameters<typeof Say>[0]['words'] =>
  words.map((part, index) =>
    index === 0 && typeof part === 'string' ? part.replace(/^Visible red outranks any clock\.\s*/, '') : part,
  )
