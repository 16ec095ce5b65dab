import { useEffect, useState } from 'preact/hooks';
import type { CrossCalibration } from '../../../../spokes/crossCalibrate.ts';
import type { MeanReading } from '../../../../spokes/secondReadings.ts';
import type { Round, Wheel } from '../../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../../units.ts';
import { useActions } from '../../../store/useStore.ts';
import { FEWEST_TO_SPLIT } from '../CrossCalibrated.tsx';
import { EarByGauge, SPLIT_TEXT } from '../EarByGauge.tsx';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly second: ReadonlyMap<number, MeanReading>;
  /** The round's own tensions are there. */
  readonly ready: boolean;
  readonly unit: TensionUnit;
}

/** The ear calibrated by the gauge in two halves, worked out once the report is otherwise complete. */
export function SplitByGauge({ wheel, round, second, ready, unit }: Props) {
  const actions = useActions();
  const [result, setResult] = useState<CrossCalibration | undefined>(undefined);
  const wanted = ready && second.size >= FEWEST_TO_SPLIT;
  useEffect(() => {
    if (!wanted) return;
    let current = true;
    void actions.calibrateByGauge(wheel.id, round.id, second).then((one) => {
      if (current) setResult(one);
    });
    return () => {
      current = false;
    };
  }, [wanted, wheel.id, round.id, second, actions]);
  if (!wanted) return null;
  return (
    <section aria-label="The ear calibrated by the gauge">
      <h2>Calibrating the ear by the gauge</h2>
      <p>{SPLIT_TEXT}</p>
      {result ? (
        <EarByGauge result={result} unit={unit} />
      ) : (
        <p class="no-print" role="status">
          Measuring …
        </p>
      )}
    </section>
  );
}
