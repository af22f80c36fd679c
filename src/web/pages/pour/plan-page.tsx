import { BurnoutRow } from './plan/burnout-row.tsx'
import { FinishRow, QuenchRow, SpinRow } from './plan/casting-rows.tsx'
import { ChargeRow } from './plan/charge-row.tsx'
import { Drawing } from './plan/flask-drawing.tsx'
import { FlaskRow } from './plan/flask-row.tsx'
import { FreezeRow } from './plan/freeze-row.tsx'
import { MixRow } from './plan/mix-row.tsx'
import { PiecesRow } from './plan/pieces-row.tsx'
import { PriceRow } from './plan/price-row.tsx'

/** The spread: the plate on the left, one row per part on the right, the answer and never the working. */
export const PlanPage = () => (
  <div className="spread">
    <div className="lp">
      <Drawing />
    </div>
    <div className="rp">
      <PiecesRow />
      <FlaskRow />
      <FreezeRow />
      <ChargeRow />
      <PriceRow />
      <p className="nrb">The wax is spent below this line. Everything above can still be changed.</p>
      <MixRow />
      <BurnoutRow />
      <SpinRow />
      <QuenchRow />
      <FinishRow />
    </div>
  </div>
)
