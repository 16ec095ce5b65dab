import { useState } from 'preact/hooks';
import { compareMethods } from '../../../spokes/compareMethods.ts';
import type { CrossCalibration } from '../../../spokes/crossCalibrate.ts';
import type { MeanReading } from '../../../spokes/secondReadings.ts';
import type { Round, Side, Wheel } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import { useActions } from '../../store/useStore.ts';
import { SideAgreement } from './SideAgreement.tsx';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly sides: readonly Side[];
  readonly second: ReadonlyMap<number, MeanReading>;
  readonly unit: TensionUnit;
}

const FEWEST = 6;

/** The ear calibrated by the gauge; no spoke that calibrates is judged by itself. */
export function CrossCalibrated({ wheel, round, sides, second, unit }: Props) {
  const actions = useActions();
  const [state, setState] = useState<'idle' | 'working'>('idle');
  const [result, setResult] = useState<CrossCalibration | undefined>(undefined);
  if (second.size < FEWEST || wheel.layout.kind === 'evenness') return null;
  const calibrate = async () => {
    setState('working');
    setResult(await actions.calibrateByGauge(wheel.id, round.id, second));
    setState('idle');
  };
  const readings = new Map(
    [...(result?.readings ?? [])].flatMap(([spoke, reading]) => (reading.ok ? [[spoke, reading] as const] : [])),
  );
  const comparison = result && compareMethods([readings], second, sides);
  return (
    <section aria-label="Calibrated by the gauge">
      <h2>Calibrating the ear by the gauge</h2>
      <p>
        The spokes with a gauge reading are dealt into two halves, in turn on each side. Each half is read with the
        other half’s gauge readings taken as known, weighed by the gauge’s uncertainty; so no spoke is judged by a
        reading that helped to calibrate it. What remains is scatter and what the two methods do not share; their common
        level has been made alike and proves nothing.
      </p>
      <button type="button" class="button" disabled={state === 'working'} onClick={() => void calibrate()}>
        {state === 'working' ? 'Measuring …' : 'Calibrate in two halves'}
      </button>
      {result && comparison && (
        <>
          <p role="status">
            Split: {result.halves[0].join(', ')} calibrated {result.halves[1].join(', ')}, and the other way round.
          </p>
          <div class="sides">
            {comparison.sides.map((one) => (
              <SideAgreement key={one.side} comparison={one} unit={unit} />
            ))}
          </div>
        </>
      )}
    </section>
  );
}
