import type { RepeatedRound } from '../../../spokes/repeatability.ts';
import type { Round } from '../../../spokes/wheel.ts';
import type { MeasuredRound } from '../../store/appState.ts';
import { earReadings } from './earReadings.ts';

/** Rounds by ear as repeats; the person and the microphone tell whose they are. */
export const repeatedRounds = (
  rounds: readonly Round[],
  measured: Readonly<Record<string, MeasuredRound>>,
): readonly RepeatedRound[] =>
  rounds.flatMap((round) => {
    const readings = earReadings(measured[round.id]);
    if (readings.size === 0) return [];
    return [
      {
        by: `${round.person ?? ''} ${round.device ?? round.settings?.deviceLabel ?? ''}`,
        values: new Map([...readings].map(([spoke, reading]) => [spoke, reading.tensionN as number])),
      },
    ];
  });
