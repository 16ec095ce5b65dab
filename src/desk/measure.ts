import type { WavReason } from '../audio/decodeWav.ts';
import type { Assigned, HearReason, How, MeasureReason, Tone } from '../contract.ts';
import { expectedTones } from '../physics/expectedTones.ts';
import { measureSpoke } from '../physics/measureSpoke.ts';
import { prepareMember } from '../physics/prepareMember.ts';
import { describeMember } from '../spokes/describeMember.ts';
import { expandLayout } from '../spokes/expandLayout.ts';
import { howToPluck } from '../spokes/howToPluck.ts';
import type { LaidSpoke } from '../spokes/laidSpoke.ts';
import { readRound } from '../spokes/readRound.ts';
import { type Prepare, rememberPrepared } from '../spokes/rememberPrepared.ts';
import { shiftCheck } from '../spokes/shiftCheck.ts';
import type { Pluck, Round, Side, Wheel } from '../spokes/wheel.ts';
import { type Crediting, creditSounds } from './creditSounds.ts';
import type { DivideReason } from './divide.ts';
import { type ExpectedFrom, type HeardSound, hearRecording, readRecording } from './hearRecording.ts';
import { judgeSpokes } from './judgeSpokes.ts';
import { type DeskReason, refusalText } from './refusalText.ts';
import type { SpokeVerdict } from './spokeVerdict.ts';
import { type TaughtRows, taughtRows } from './taughtRows.ts';

export interface RecordingFile {
  readonly name: string;
  /** Absent: the file could not be read, and why. */
  readonly bytes?: Uint8Array;
  readonly problem?: string;
  /** Whose it is, where that is known: then it is not divided. */
  readonly spoke?: number;
}
export interface MeasuredPluck {
  readonly onsetS: number;
  /** From 1; absent: credited to none. */
  readonly spoke?: number;
  /** How it is taken to have been plucked; absent where it is of no spoke. */
  readonly how?: How;
  readonly ok: boolean;
  readonly reason?: HearReason | MeasureReason;
  readonly detail?: string;
  readonly tones: readonly Tone[];
  readonly flags: readonly string[];
  readonly tensionN?: number;
  readonly uOwnN?: number;
  readonly uCommonN?: number;
  readonly assignment?: readonly Assigned[];
}
export interface MeasuredRecording {
  readonly file: string;
  readonly ok: boolean;
  readonly reason?: WavReason | DivideReason | 'unreadable' | 'placesSlipped';
  readonly detail?: string;
  /** What is wrong and what to do, where it was refused. */
  readonly advice?: string;
  readonly sampleRateHz?: number;
  readonly truncated?: boolean;
  readonly plucks: readonly MeasuredPluck[];
}
export interface Measured extends TaughtRows {
  readonly recordings: readonly MeasuredRecording[];
  readonly spokes: readonly SpokeVerdict[];
}
export interface ExplainedSound {
  readonly file: string;
  readonly index: number;
  readonly sampleRateHz: number;
  readonly sound: HeardSound;
  readonly pluck: MeasuredPluck;
}
export interface MeasureOptions {
  readonly crediting: Crediting;
  /** Of every spoke; absent: what the app asks for, spoke by spoke. */
  readonly crossing?: How['crossing'];
  readonly direction?: How['direction'];
  /** How single spokes were plucked, where that was recorded; comes before the two above. */
  readonly plucked?: ReadonlyMap<number, How>;
  /** Called with each sound and what became of it, for drawings. */
  readonly explain?: (sheet: ExplainedSound) => void;
}

/** Told to the ear so long before the onset. */
const AHEAD_S = 0.05;

/**
 * Re-analyses recordings of a wheel with the very rooms of the app.
 *
 * Each recording is heard once to find its sounds, which are then credited to spokes; it is heard again with the ear expecting each spoke in its
 * turn, as in the app. Every pluck is measured by itself; of each spoke the plucks that agree go into one joint fit of all, as in the app.
 */
export function measure(wheel: Wheel, files: readonly RecordingFile[], options: MeasureOptions): Measured {
  const laid = expandLayout(wheel.layout);
  const sides: readonly Side[] = laid.ok ? laid.spokes.map((spoke) => spoke.side) : [];
  const hows = new Map(options.plucked);
  const howOf = (spoke: number): How => {
    const how = hows.get(spoke) ?? howAsked(wheel, laid.ok ? laid.spokes[spoke - 1] : undefined, options);
    hows.set(spoke, how);
    return how;
  };
  const prepare = rememberPrepared(prepareMember);
  const recordings: MeasuredRecording[] = [];
  const plucks: Pluck[] = [];
  let { crediting } = options;
  for (const file of files) {
    const own: Crediting = file.spoke === undefined ? crediting : { by: 'spoke', spoke: file.spoke };
    const result = measureRecording(wheel, file, own, sides, howOf, prepare, options.explain);
    recordings.push(result.recording);
    plucks.push(...result.plucks);
    if (own.by === 'from' && result.nextSpoke !== undefined) crediting = { ...own, from: result.nextSpoke };
  }
  const round = roundOf(plucks, howOf(1), wheel);
  const read = readRound(wheel, round, prepare, 'settled');
  const named = new Set([
    ...spokesOf(options.crediting),
    ...recordings.flatMap((one) => one.plucks.flatMap((pluck) => (pluck.spoke ? [pluck.spoke] : []))),
  ]);
  const asked = sides.map((_, i) => i + 1).filter((spoke) => options.crediting.by === 'round' || named.has(spoke));
  const spokes = judgeSpokes(wheel, round, asked, read, whyNotHeard(asked, recordings));
  return { recordings, spokes, ...taughtRows(wheel, round, read) };
}

/** What the app asks for, where nothing else is said. */
function howAsked(wheel: Wheel, spoke: LaidSpoke | undefined, { crossing, direction }: MeasureOptions): How {
  const asked: How = spoke ? howToPluck(wheel, spoke, 'held') : { crossing: 'none', direction: 'inPlane' };
  return { crossing: crossing ?? asked.crossing, direction: direction ?? asked.direction };
}

/** In a recording of speech or music now and then a sound rings like a spoke: most of a spoke's sounds must. */
const FEWEST_SOUNDS = 4;
const LEAST_SHARE = 1 / 3;
/** Of each spoke that may have no tension by what was heard: too few of its sounds rang, or what the last one was that did not. */
function whyNotHeard(
  asked: readonly number[],
  recordings: readonly MeasuredRecording[],
): ReadonlyMap<number, DeskReason> {
  const plucks = recordings.flatMap((one) => one.plucks);
  return new Map(
    asked.flatMap((spoke): [number, DeskReason][] => {
      const sounds = plucks.filter((pluck) => pluck.spoke === spoke);
      const rang = sounds.filter(({ ok }) => ok).length;
      if (sounds.length >= FEWEST_SOUNDS && rang < LEAST_SHARE * sounds.length) return [[spoke, 'fewRang']];
      const reason = sounds.findLast(({ ok }) => !ok)?.reason;
      return reason === undefined ? [] : [[spoke, reason]];
    }),
  );
}

/** The spokes that the person named, whether they sounded or not. */
const spokesOf = (crediting: Crediting): readonly number[] =>
  crediting.by === 'cues'
    ? crediting.cues.map(({ spoke }) => spoke)
    : crediting.by === 'spoke'
      ? [crediting.spoke]
      : [];

function measureRecording(
  wheel: Wheel,
  file: RecordingFile,
  crediting: Crediting,
  sides: readonly Side[],
  howOf: (spoke: number) => How,
  prepare: Prepare,
  explain: MeasureOptions['explain'],
): { recording: MeasuredRecording; plucks: readonly Pluck[]; nextSpoke?: number } {
  const refused = (reason: NonNullable<MeasuredRecording['reason']>, detail: string | undefined) => ({
    recording: {
      file: file.name,
      ok: false,
      reason,
      ...(detail !== undefined && { detail }),
      advice: refusalText(reason, detail),
      plucks: [],
    },
    plucks: [],
  });
  if (!file.bytes) return refused('unreadable', file.problem);
  const recording = readRecording(file.bytes);
  if (!recording.ok) return refused(recording.reason, recording.detail);
  const { sampleRateHz, truncated } = recording;

  const first = hearRecording(recording);
  const uncredited = (reason: NonNullable<MeasuredRecording['reason']>, detail: string | undefined) => {
    const { recording: why } = refused(reason, detail);
    const plucks = first.map((sound) => pluckOf(sound, undefined, undefined, undefined));
    return { recording: { ...why, sampleRateHz, plucks }, plucks: [] };
  };
  const credited = creditSounds(first, crediting, sides.length);
  if (!credited.ok) return uncredited(credited.reason, credited.detail);
  const schedule: ExpectedFrom[] = [];
  for (const [i, sound] of first.entries()) {
    const spoke = credited.spokes[i];
    if (spoke === undefined || spoke === credited.spokes[i - 1]) continue;
    const described = describeMember(wheel, spoke);
    const expected = described.ok ? expectedTones(prepare(described.described), howOf(spoke)) : undefined;
    schedule.push({ fromS: Math.max(0, sound.onsetS - AHEAD_S), expected });
  }
  const sounds = schedule.length > 0 ? hearRecording(recording, schedule) : first;
  const plucks: Pluck[] = [];
  const measured = sounds.map((sound, i): MeasuredPluck => {
    const spoke = spokeOf(sound, first, credited.spokes);
    const { heard } = sound;
    const pluck =
      spoke !== undefined && heard.ok ? asPluck(`${file.name} ${i + 1}`, spoke, howOf(spoke), heard) : undefined;
    if (pluck) plucks.push(pluck);
    const how = spoke === undefined ? undefined : howOf(spoke);
    const result = pluckOf(sound, spoke, how, pluck && measureAlone(wheel, pluck, prepare));
    explain?.({ file: file.name, index: i, sampleRateHz, sound, pluck: result });
    return result;
  });
  const slip = crediting.by === 'round' ? slipIn(roundOf(plucks, howOf(1), wheel), sides) : undefined;
  if (slip !== undefined) return uncredited('placesSlipped', slip);
  return {
    recording: { file: file.name, ok: true, sampleRateHz, ...(truncated && { truncated }), plucks: measured },
    plucks,
    nextSpoke: credited.nextSpoke,
  };
}

/** Pauses cannot tell a spoke passed over from a stray sound elsewhere; where the sides lie apart, their tones can. */
function slipIn(round: Round, sides: readonly Side[]): string | undefined {
  const slip = shiftCheck({ round, sides }).find(({ kind }) => kind === 'sidesTradePlaces');
  if (slip?.kind !== 'sidesTradePlaces') return undefined;
  return `from spoke ${slip.from} ${slip.to === undefined ? 'on' : `to ${slip.to}`}`;
}

/** Told what to expect, the ear may place an onset a little differently: the nearest of the first hearing is the same sound. */
function spokeOf(
  sound: HeardSound,
  first: readonly HeardSound[],
  spokes: readonly (number | undefined)[],
): number | undefined {
  let best = 0;
  for (const [i, other] of first.entries()) {
    if (Math.abs(other.onsetS - sound.onsetS) < Math.abs((first[best] as HeardSound).onsetS - sound.onsetS)) best = i;
  }
  return spokes[best];
}

const asPluck = (id: string, spoke: number, how: How, heard: Extract<HeardSound['heard'], { ok: true }>): Pluck => ({
  id,
  at: '',
  spoke,
  how,
  tones: heard.tones,
  covarianceHz2: heard.covarianceHz2,
  hypotheses: heard.hypotheses,
  flags: heard.flags,
});

function measureAlone(wheel: Wheel, pluck: Pluck, prepare: Prepare): ReturnType<typeof measureSpoke> {
  const described = describeMember(wheel, pluck.spoke);
  if (!described.ok) return { ok: false, reason: 'memberIncomplete', detail: `${described.field} ${described.detail}` };
  const prepared = prepare(described.described);
  return measureSpoke({ id: pluck.spoke, prepared, plucks: [pluck], group: described.group });
}

function pluckOf(
  sound: HeardSound,
  spoke: number | undefined,
  how: How | undefined,
  reading: ReturnType<typeof measureSpoke> | undefined,
): MeasuredPluck {
  const { heard, onsetS } = sound;
  const place = { onsetS, ...(spoke !== undefined && { spoke }), ...(how && { how }) };
  if (!heard.ok) {
    const { reason, detail } = heard;
    return { ...place, ok: false, reason, ...(detail && { detail }), tones: [], flags: [] };
  }
  const { tones, flags } = heard;
  if (!reading) return { ...place, ok: true, tones, flags };
  if (!reading.ok) {
    const { reason, detail } = reading;
    return { ...place, ok: false, reason, ...(detail && { detail }), tones, flags };
  }
  const { tensionN, uOwnN, uCommonN, assignment } = reading;
  return { ...place, ok: true, tones, flags, tensionN, uOwnN, uCommonN, assignment };
}

const roundOf = (plucks: readonly Pluck[], how: How, wheel: Wheel): Round => ({
  id: 'recordings',
  startedAt: '',
  how,
  state: wheel.state,
  order: 'byPlace',
  plucksToSettle: 1,
  plucks,
  skipped: [],
});
