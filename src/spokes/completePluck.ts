import type { How, Tone } from '../contract.ts';
import { decibels, hertz, seconds } from '../units.ts';
import { fingerprint } from './fingerprint.ts';
import type { Pluck, Round, WheelState } from './wheel.ts';
import type { PluckInput, RoundInput, StateInput } from './wheelFileSchema.ts';

/** The day before all others: where a file gives no time. */
export const NO_TIME = '1970-01-01T00:00:00.000Z';
const USUAL_HOW: How = { crossing: 'held', direction: 'inPlane' };

/** A typed tone, without a microphone: sure to 0.05 %, or to the tenth of a hertz that one reads off a tuner. `common practice` */
const TYPED = { uRelative: 5e-4, uLeastHz: 0.05, levelDb: -20, decayS: 1, snrDb: 40 };

/** A state of which nothing is said is a wheel without its tyre: what makers' limits hold for. */
export const completeState = (input: StateInput | undefined): WheelState => ({
  tyre: input?.tyre ?? 'off',
  ...(input?.pressureBar === undefined ? {} : { pressureBar: input.pressureBar }),
  ...(input?.temperatureC === undefined ? {} : { temperatureC: input.temperatureC }),
});

const completeHow = (input: PluckInput['how'], usual: How): How => ({
  crossing: input?.crossing ?? usual.crossing,
  direction: input?.direction ?? usual.direction,
});

export function completePluck(input: PluckInput, id: string, spoke: number, usual: How): Pluck {
  const tones = input.tones
    .map(
      (tone): Tone => ({
        frequencyHz: hertz(tone.frequencyHz),
        uHz: hertz(tone.uHz ?? Math.max(TYPED.uLeastHz, TYPED.uRelative * tone.frequencyHz)),
        levelDb: decibels(tone.levelDb ?? TYPED.levelDb),
        decayS: seconds(tone.decayS ?? TYPED.decayS),
        snrDb: decibels(tone.snrDb ?? TYPED.snrDb),
        ...(tone.pairId === undefined ? {} : { pairId: tone.pairId }),
      }),
    )
    .toSorted((a, b) => a.frequencyHz - b.frequencyHz);
  const square = input.covarianceHz2;
  const fits = square?.length === tones.length && square.every((row) => row.length === tones.length);
  return {
    id: input.id ?? id,
    at: input.at ?? NO_TIME,
    spoke: input.spoke ?? spoke,
    how: completeHow(input.how, usual),
    tones,
    covarianceHz2: fits ? square : tones.map((tone, i) => tones.map((_, j) => (i === j ? tone.uHz ** 2 : 0))),
    // A numbering of other tones than these says nothing.
    hypotheses: (input.hypotheses ?? []).filter(
      (hypothesis) => hypothesis.modes.length === tones.length,
    ) as Pluck['hypotheses'],
    flags: input.flags ?? [],
    ...(input.closing === undefined ? {} : { closing: input.closing }),
    ...(input.putAside === undefined ? {} : { putAside: input.putAside }),
    ...(input.recordingId === undefined ? {} : { recordingId: input.recordingId }),
  };
}

/** A round that has no id is named by what it holds: two files' first rounds are two, the same file's is the same. */
export function completeRound(input: RoundInput, wheelState: WheelState): Round {
  const id = input.id ?? `round-${fingerprint(JSON.stringify(input))}`;
  const how = completeHow(input.how, USUAL_HOW);
  return {
    id,
    startedAt: input.startedAt ?? NO_TIME,
    ...(input.finishedAt === undefined ? {} : { finishedAt: input.finishedAt }),
    ...(input.person === undefined ? {} : { person: input.person }),
    ...(input.device === undefined ? {} : { device: input.device }),
    how,
    state: input.state === undefined ? wheelState : completeState(input.state),
    order: input.order ?? 'byPlace',
    ...(input.firstSpoke === undefined ? {} : { firstSpoke: input.firstSpoke }),
    plucksToSettle: input.plucksToSettle ?? 2,
    plucks: (input.plucks ?? []).map((pluck, i) => completePluck(pluck, `${id}-pluck-${i + 1}`, 1, how)),
    skipped: input.skipped ?? [],
    ...(input.settings === undefined ? {} : { settings: input.settings as NonNullable<Round['settings']> }),
  };
}
