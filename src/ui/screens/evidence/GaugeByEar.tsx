import type { Reading } from '../../../contract.ts';
import { calibrateGauge, type GaugeCalibration } from '../../../spokes/calibrateGauge.ts';
import { gaugePairs, type SidePairs } from '../../../spokes/gaugePairs.ts';
import type { SecondReadings } from '../../../spokes/secondReadings.ts';
import type { Side, Wheel } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import { intervalInUnit, intervalText, inUnit } from './inUnit.ts';
import { LeftOut } from './LeftOut.tsx';

interface Props {
  readonly wheel: Wheel;
  readonly ear: ReadonlyMap<number, Reading>;
  readonly second: SecondReadings;
  readonly sides: readonly Side[];
  readonly unit: TensionUnit;
}

/** The gauge calibrated by the round by ear, each spoke judged by the calibration made without it. */
export function GaugeByEar({ wheel, ear, second, sides, unit }: Props) {
  const pairs = gaugePairs(second, ear, sides, wheel.calibrations);
  if (pairs.length === 0) return null;
  return (
    <section aria-label="The gauge calibrated by the ear">
      <h2>Calibrating the gauge by the ear</h2>
      <div class="sides">
        {pairs.map((one) => (
          <SideByEar key={one.side} side={one} unit={unit} />
        ))}
      </div>
      <p class="soft">
        A gauge calibrated here is no second witness on this wheel: take the figures to another wheel of the same
        spokes.
      </p>
    </section>
  );
}

function SideByEar({ side: { side, shows, pairs, excluded }, unit }: { side: SidePairs; unit: TensionUnit }) {
  const result = calibrateGauge(pairs, shows);
  return (
    <section class="keep" aria-label={`${side} side, gauge by ear`}>
      <h3>{side === 'left' ? 'Left side' : 'Right side'}</h3>
      {excluded.length > 0 && (
        <p class="soft">Left out, since a tension of theirs was known by other means: {excluded.join(', ')}.</p>
      )}
      {result.ok ? (
        <Calibrated calibration={result} unit={unit} />
      ) : (
        <p>
          {result.reason === 'tooFewPairs'
            ? 'Fewer than five spokes with both readings: too few to calibrate by some and judge by others.'
            : 'The gauge shows the same mark on every spoke: that tells no scale.'}
        </p>
      )}
    </section>
  );
}

function Calibrated({ calibration, unit }: { readonly calibration: GaugeCalibration; readonly unit: TensionUnit }) {
  const { model, slope, intercept, uCommonRelative, scatter, chart, leftOut, beforeRmsN } = calibration;
  const marks = (value: number) => (model === 'line' ? value.toFixed(2) : inUnit(value, unit));
  const percent = 200 * uCommonRelative;
  return (
    <>
      <p>
        {model === 'factor'
          ? `By the ear, tension is this gauge’s readings times ${intervalText(slope)}; in brackets the 95 % interval.`
          : `Tension by the ear: ${intercept ? intervalInUnit(intercept, unit) : ''} ${unit} and ${intervalInUnit(slope, unit)} ${unit} a mark more; in brackets the 95 % intervals. It holds between the marks of this side’s spokes only.`}{' '}
        The ear’s own scale is sure to ± {percent.toFixed(1)} % (k = 2), and no number of spokes narrows that.
      </p>
      <LeftOut
        how="Leave-one-out, each spoke judged by the calibration made without it"
        leftOut={leftOut}
        unit={unit}
        beforeN={beforeRmsN}
      />
      <p>
        Chart by ear, {model === 'factor' ? `gauge, ${unit}` : 'mark'} → tension ± U, {unit} (k = 2, the ear’s own scale
        included):{' '}
        {chart
          .map((point) =>
            [marks(point.shown), '→', inUnit(point.tensionN, unit), '±', inUnit(2 * point.uN, unit)].join('\u00a0'),
          )
          .join('; ')}
        .
      </p>
      <p class="soft">
        Scatter of one of its readings:{' '}
        {model === 'line' ? `${scatter.shown.toFixed(3)} marks` : `${inUnit(scatter.shown, unit, 1)} ${unit}`}, from{' '}
        {scatter.from === 'repeats' ? 'its repeats' : 'what the ear’s own part leaves of the differences'}.
      </p>
    </>
  );
}
