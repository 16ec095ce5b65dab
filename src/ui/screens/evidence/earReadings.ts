import type { Reading } from '../../../contract.ts';
import type { MeasuredRound } from '../../store/appState.ts';

/** The tensions that a round gave, by spoke; refusals left out. */
export const earReadings = (measured: MeasuredRound | undefined): ReadonlyMap<number, Reading> =>
  new Map(
    Object.entries(measured?.readings ?? {}).flatMap(([spoke, reading]) =>
      reading.ok ? [[Number(spoke), reading] as const] : [],
    ),
  );
