import { nearest, SAME_PARTIAL_RELATIVE } from './plucksAgree.ts';
import type { Pluck } from './wheel.ts';

/**
 * Modes of the tones of one spoke's plucks, numbered as one: a tone that a pluck lacks must not make the next one its first.
 *
 * The pluck whose proposal explains most of its loudness numbers all; the others' tones are known by their frequency. What the surest
 * pluck does not have keeps its own number only where the two numberings are nowhere at odds.
 *
 * @param plucks That agree; a pluck for which the ear proposed nothing is numbered by its ratios.
 * @returns For each pluck, the mode of each of its tones; 0 is not of the spoke, or not known.
 */
export function numberTogether(plucks: readonly Pluck[]): readonly (readonly number[])[] {
  const own = plucks.map((pluck) => pluck.hypotheses[0]?.modes ?? modesByRatio(pluck));
  const [reference] = plucks.toSorted((a, b) => scoreOf(b) - scoreOf(a) || lowestOf(a) - lowestOf(b));
  if (reference === undefined) return [];
  const modes = own[plucks.indexOf(reference)] ?? [];
  return plucks.map((pluck, p) => {
    if (pluck === reference) return modes;
    const known = pluck.tones.map(({ frequencyHz }) => modeNear(frequencyHz, reference, modes));
    const atOdds = known.some((mode, i) => mode !== undefined && mode > 0 && mode !== (own[p]?.[i] ?? 0));
    return known.map((mode, i) => mode ?? (atOdds ? 0 : (own[p]?.[i] ?? 0)));
  });
}

const scoreOf = ({ hypotheses }: Pluck): number => hypotheses[0]?.score ?? -1e9;
const lowestOf = ({ tones }: Pluck): number => Math.min(...tones.map((tone) => tone.frequencyHz));

/** The mode of the reference's nearest tone, if it is the same partial. */
function modeNear(frequencyHz: number, { tones }: Pluck, modes: readonly number[]): number | undefined {
  const mate = nearest(tones, frequencyHz);
  if (mate === undefined || Math.abs(Math.log(mate.frequencyHz / frequencyHz)) > SAME_PARTIAL_RELATIVE)
    return undefined;
  return modes[tones.indexOf(mate)] ?? 0;
}

/** Counted from the lowest tone within 20 dB of the loudest. */
function modesByRatio(pluck: Pluck): readonly number[] {
  const loudest = Math.max(...pluck.tones.map((tone) => tone.levelDb));
  const first = pluck.tones.find((tone) => tone.levelDb >= loudest - 20);
  if (first === undefined) return [];
  const taken = new Set<number>();
  return pluck.tones.map((tone) => {
    const ratio = tone.frequencyHz / first.frequencyHz;
    // Stiffness spreads partials: the third lies at 3.2, the fourth at 4.6 times the first.
    const mode = ratio < 0.97 ? 0 : Math.max(1, Math.floor(ratio + (ratio < 2.6 ? 0.5 : 0.35)));
    if (mode === 0 || taken.has(mode)) return 0;
    taken.add(mode);
    return mode;
  });
}
