import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'

export const Rules = () => (
  <section className="part" id="rules">
    <h2>
      Rules<small>what you hold to</small>
    </h2>
    <ValueTable label="Rules">
      <ValueRow path="/shop/rules/wallClearance_mm" title="Wax to the flask’s wall, at least" />
      <ValueRow path="/shop/rules/waxToWax_mm" title="Wax to wax, at least" />
      <ValueRow path="/shop/rules/topPerDiameter" title="Above the wax, by the flask’s width" as="hundred" />
      <ValueRow path="/shop/rules/topLeast_mm" title="Above the wax, never under" />
      <ValueRow path="/shop/rules/shortChance" title="A charge may fall short" as="one in" />
      <ValueRow path="/shop/rules/buttonChance" title="A button may be too small" as="one in" />
      <ValueRow path="/shop/rules/returnedMost" title="Metal cast before, at most" as="hundred" />
      <ValueRow path="/shop/rules/wasteAllowance" title="Slurry spare for the bowl" as="hundred" />
      <ValueRow path="/shop/rules/crucibleFillMost" title="Fill the crucible, at most" as="hundred" />
      <ValueRow
        path="/shop/rules/spreadOfFreezing"
        title="How far off a freezing time may be"
        about="one part in a hundred either way, twice in three"
        as="hundred"
      />
    </ValueTable>
  </section>
)

export const ClockAndFinishing = () => (
  <>
    <section className="part" id="clock">
      <h2>
        Mixing clock<small>your own pace</small>
      </h2>
      <ValueTable label="Mixing clock">
        <ValueRow path="/shop/clock/mix_min" title="Powder in, mix" />
        <ValueRow path="/shop/clock/vacuumMix_min" title="Vacuum on the bowl" />
        <ValueRow path="/shop/clock/pour_min" title="Pour" />
        <ValueRow path="/shop/clock/vacuumFlask_min" title="Vacuum on the flask" />
        <ValueRow path="/shop/clock/stillBefore_min" title="Still before the gloss goes" />
      </ValueTable>
    </section>
    <section className="part" id="finishing">
      <h2>
        After the spin<small>quench, pickle, polish</small>
      </h2>
      <ValueTable label="After the spin">
        <ValueRow path="/shop/finishing/quenchOpens_C" title="Quench opens at" stated />
        <ValueRow path="/shop/finishing/quenchCloses_C" title="Quench closes at" stated />
        <ValueRow path="/shop/finishing/pickle_C" title="Pickle kept at" />
        <ValueRow path="/shop/finishing/perFace_mm" title="Finishing takes off a face" stated />
      </ValueTable>
    </section>
  </>
)
