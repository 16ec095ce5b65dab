import type { How } from '../../contract.ts';
import type { HeardPluck } from '../../spokes/walkRound.ts';
import type { Pluck, Round } from '../../spokes/wheel.ts';
import { decibels, type Hertz, hertz, seconds } from '../../units.ts';

/** Puts a pluck aside or takes it back; it stays on file either way. */
export function setAside(round: Round, pluckId: string, aside: boolean): Round {
  return {
    ...round,
    plucks: round.plucks.map((pluck): Pluck => {
      if (pluck.id !== pluckId) return pluck;
      const { putAside: _, ...rest } = pluck;
      return aside ? { ...rest, putAside: true } : rest;
    }),
  };
}

/** A tone read off another instrument is as good as its display: two tenths of a percent, or half a hertz. `common practice` */
const TYPED_RELATIVE = 0.002;
const TYPED_LEAST_HZ = 0.5;
/** What a typed tone does not tell: an ordinary clear ring. */
const TYPED_LEVEL = decibels(-12);
const TYPED_DECAY = seconds(0.3);
const TYPED_SNR = decibels(40);

/** A pluck out of typed tones, ascending, as uncertain as a display allows. */
export function typedPluck(id: string, at: string, how: How, tonesHz: readonly Hertz[]): HeardPluck {
  const tones = [...tonesHz]
    .sort((a, b) => a - b)
    .map((frequencyHz) => ({
      frequencyHz,
      uHz: hertz(Math.max(TYPED_LEAST_HZ, TYPED_RELATIVE * frequencyHz)),
      levelDb: TYPED_LEVEL,
      decayS: TYPED_DECAY,
      snrDb: TYPED_SNR,
    }));
  return {
    id,
    at,
    how,
    tones,
    covarianceHz2: tones.map((tone, row) => tones.map((_, column) => (row === column ? tone.uHz ** 2 : 0))),
    hypotheses: [],
    flags: [],
  };
}
