import type { CrossCalibration } from '../../../spokes/crossCalibrate.ts';
import type { TensionUnit } from '../../../units.ts';
import { LeftOut } from './LeftOut.tsx';

/** The split and what it gave, side by side. */
export const EarByGauge = ({ result, unit }: { readonly result: CrossCalibration; readonly unit: TensionUnit }) => (
  <>
    <p role="status">
      Split: {result.halves[0].join(', ')} calibrated {result.halves[1].join(', ')}, and the other way round.
    </p>
    <div class="sides">
      {result.sides.map(({ side, leftOut }) => (
        <section key={side} aria-label={`${side} side, ear by gauge`}>
          <h3>{side === 'left' ? 'Left side' : 'Right side'}</h3>
          <LeftOut how="Each half read with the other’s gauge readings known" leftOut={leftOut} unit={unit} />
        </section>
      ))}
    </div>
  </>
);

/** What the split is for, in words. */
export const SPLIT_TEXT =
  'The spokes with a gauge reading, those of a tension known by other means left out, are dealt into two halves, in turn on each side. Each half is read with the other half’s gauge readings taken as known, all together no surer than the gauge’s own scale; so no spoke is judged by a reading that helped to calibrate it. What remains is scatter and what the two methods do not share; their common level has been made alike and proves nothing.';
