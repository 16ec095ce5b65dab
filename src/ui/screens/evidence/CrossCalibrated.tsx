import { useState } from 'preact/hooks';
import type { CrossCalibration } from '../../../spokes/crossCalibrate.ts';
import type { MeanReading } from '../../../spokes/secondReadings.ts';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import { useActions } from '../../store/useStore.ts';
import { EarByGauge, SPLIT_TEXT } from './EarByGauge.tsx';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly second: ReadonlyMap<number, MeanReading>;
  readonly unit: TensionUnit;
}

/** Spokes with a gauge reading, for two halves. */
export const FEWEST_TO_SPLIT = 6;

/** The ear calibrated by the gauge; no spoke that calibrates is judged by itself. */
export function CrossCalibrated({ wheel, round, second, unit }: Props) {
  const actions = useActions();
  const [state, setState] = useState<'idle' | 'working'>('idle');
  const [result, setResult] = useState<
    { readonly of: typeof second; readonly calibrated: CrossCalibration | undefined } | undefined
  >(undefined);
  if (second.size < FEWEST_TO_SPLIT || wheel.layout.kind === 'evenness') return null;
  const calibrate = async () => {
    setState('working');
    setResult({ of: second, calibrated: await actions.calibrateByGauge(wheel.id, round.id, second) });
    setState('idle');
  };
  // Readings that were changed since are not those that calibrated.
  const calibrated = result?.of === second ? result.calibrated : undefined;
  return (
    <section aria-label="Calibrated by the gauge">
      <h2>Calibrating the ear by the gauge</h2>
      <p>{SPLIT_TEXT}</p>
      <button type="button" class="button" disabled={state === 'working'} onClick={() => void calibrate()}>
        {state === 'working' ? 'Measuring …' : 'Calibrate in two halves'}
      </button>
      {calibrated && <EarByGauge result={calibrated} unit={unit} />}
    </section>
  );
}
