import type { ExpectedAtTension } from '../contract.ts';
import { seconds } from '../units.ts';
import type { Ear, EarEvent, EarOptions } from './earEvent.ts';
import { findOnsets, type Onset } from './findOnsets.ts';
import { firstTone } from './firstTone.ts';
import { hear } from './hear.ts';

/** Kept before the onset, for the noise. */
const BEFORE_S = 0.3;
/** Ring after which a first estimate is shown. */
const EARLY_S = 0.2;
/** Ring after which the pluck is judged. */
const DEFAULT_RING_S = 0.66;
/** A touch so soon after the first is the same pluck; it counts from there. */
const SAME_PLUCK_S = 0.06;
/** An onset in a ring that is fainter than this share of the pluck's own start is no new pluck. */
const FAINTER = 0.3;
/** A freehub's click has died so long after its onset. */
const CLICK_S = 0.008;
/** What came with an onset is weighed when so much of it is known: a click is then told from a ring. */
const WEIGHED_S = 0.03;
/** The level is told so often. */
const LEVEL_EVERY_S = 0.1;
const TOO_LOUD = 0.97;
const QUIET_RMS = 3e-4;

/** A pluck in flight. Samples count from the first pushed. */
interface Pluck {
  onset: number;
  /** The first touch; the onset may be a later one. */
  readonly first: number;
  early: boolean;
  readonly loudness: number;
  readonly noiseFrom: number;
  /** What was expected when it began: the next spoke may be described before this one is judged. */
  readonly expected: readonly ExpectedAtTension[] | undefined;
}

/**
 * An ear that listens to a stream.
 * Keeps the last seconds, finds onsets as they come, gives a first tone 0.2 s after each and judges it after 0.66 s, or when
 * the next onset comes, or at the end. Times count samples, lost ones too; there is no clock.
 * @param options rate 16–192 kHz, the member's expected tones if it is described.
 * @throws RangeError for a rate outside 16–192 kHz.
 */
export function createEar(options: EarOptions): Ear {
  const rate = options.sampleRateHz;
  if (!(rate >= 16_000 && rate <= 192_000)) throw new RangeError(`sampleRateHz is ${rate}, expected 16000 to 192000`);
  const ringS = options.maxRingS ?? DEFAULT_RING_S;
  const keep = Math.ceil((BEFORE_S + ringS + 1) * rate);
  const ring = new Float32Array(keep);
  const onsets = findOnsets(rate);
  let expected = options.expected;
  let total = 0;
  let gapAt = 0;
  let heldUntil = 0;
  let pluck: Pluck | undefined;
  /** Onsets that are not yet weighed. */
  const pending: Onset[] = [];
  /** Start of the noise that belongs to the next pluck: not before the last one. */
  let lastOnset = 0;
  let peak = 0;
  let energy = 0;
  let counted = 0;

  const copy = (from: number, to: number): Float32Array<ArrayBuffer> => {
    const out = new Float32Array(to - from);
    for (let i = from; i < to; i++) out[i - from] = ring[i % keep] as number;
    return out;
  };
  const startOf = (onset: number, noiseFrom: number) =>
    Math.max(gapAt, noiseFrom, total - keep, Math.round(onset - BEFORE_S * rate), 0);
  /** Level that came with an onset, by what is known of it: what rang before is taken off. */
  const loudnessAt = (onset: number, known: number): number => {
    const power = (from: number, to: number) => {
      let sum = 0;
      for (let i = Math.max(0, from, total - keep); i < to; i++) sum += (ring[i % keep] as number) ** 2;
      return sum / Math.max(1, to - from);
    };
    const before = Math.round(0.02 * rate);
    // A click is over by then; what rings is not.
    const from = onset + Math.min(Math.round(CLICK_S * rate), (known - onset) >> 1);
    return Math.sqrt(Math.max(0, power(from, known) - power(onset - before, onset)));
  };

  const judge = (p: Pluck, end: number | undefined): EarEvent => {
    const { onset } = p;
    const from = startOf(onset, p.noiseFrom);
    const to = Math.min(total, end ?? total, Math.round(onset + ringS * rate));
    const excerpt = copy(from, to);
    const heard = hear(excerpt, {
      sampleRateHz: rate,
      onsetSample: Math.min(onset - from, excerpt.length - 1),
      settings: options.settings,
      startS: from / rate,
      maxRingS: ringS,
      ...(end === undefined ? {} : { endSample: end - from }),
      ...(p.expected ? { expected: p.expected } : {}),
    });
    return { kind: 'heard', heard, excerpt, excerptStartS: seconds(from / rate) };
  };

  /** What is due once so many samples are known. */
  const advance = (known: number, events: EarEvent[]) => {
    if (!pluck) return;
    const since = (known - pluck.onset) / rate;
    if (!pluck.early && since >= EARLY_S) {
      pluck.early = true;
      const from = startOf(pluck.onset, pluck.noiseFrom);
      const to = Math.min(known, pluck.onset + Math.ceil(EARLY_S * rate));
      const f = firstTone(copy(from, to), pluck.onset - from, rate, pluck.expected);
      if (f !== undefined) events.push({ kind: 'early', onsetS: seconds(pluck.onset / rate), firstToneHz: f });
    }
    if (since >= ringS) {
      const { onset } = pluck;
      // An onset that is not weighed yet may be the next pluck's.
      const next = pending.find((p) => p.sample > onset && p.foundAt <= onset + ringS * rate);
      events.push(judge(pluck, next?.sample));
      pluck = undefined;
    }
  };

  const takeOnset = ({ sample }: Onset, known: number, events: EarEvent[]) => {
    const loudness = loudnessAt(sample, known);
    if (pluck) {
      if (sample - pluck.first < SAME_PLUCK_S * rate) {
        if (loudness < FAINTER * pluck.loudness) return;
        pluck.onset = sample;
        lastOnset = sample;
        return;
      }
      // A click in the ring, a neighbour's rattle: the ring goes on.
      if (loudness < FAINTER * pluck.loudness) return;
      events.push(judge(pluck, sample));
    }
    const noiseFrom = lastOnset === 0 ? 0 : lastOnset + Math.round(0.03 * rate);
    pluck = { onset: sample, first: sample, early: false, loudness, noiseFrom: Math.min(noiseFrom, sample), expected };
    lastOnset = sample;
    events.push({ kind: 'onset', onsetS: seconds(sample / rate) });
  };

  /** Takes the onsets of which enough is known, or all of them at the end. */
  const weighOnsets = (events: EarEvent[], atEnd = false) => {
    for (let next = pending[0]; next; next = pending[0]) {
      const due = Math.max(next.foundAt, next.sample + Math.round(WEIGHED_S * rate));
      if (due > total && !atEnd) return;
      const known = Math.min(due, total);
      // A ring that is over by then is judged first, however long the blocks are.
      advance(known, events);
      pending.shift();
      takeOnset(next, known, events);
    }
  };

  return {
    push(samples) {
      const events: EarEvent[] = [];
      // In steps of 10 ms, so that a long block is judged as the same samples in short ones.
      const step = Math.round(0.01 * rate);
      for (let at = 0; at < samples.length; at += step) {
        const part = samples.subarray(at, Math.min(samples.length, at + step));
        for (let i = 0; i < part.length; i++) {
          const v = part[i] as number;
          ring[(total + i) % keep] = v;
          peak = Math.max(peak, Math.abs(v));
          energy += v * v;
        }
        total += part.length;
        counted += part.length;
        onsets.push(part, (onset) => {
          if (onset.sample >= heldUntil * rate) pending.push(onset);
        });
        weighOnsets(events);
        advance(total, events);
        if (counted >= LEVEL_EVERY_S * rate) {
          const level = peak >= TOO_LOUD ? 'tooLoud' : Math.sqrt(energy / counted) < QUIET_RMS ? 'quiet' : 'good';
          events.push({ kind: 'level', atS: seconds(total / rate), level });
          peak = 0;
          energy = 0;
          counted = 0;
        }
      }
      return events;
    },
    gap(lostSamples) {
      pluck = undefined;
      pending.length = 0;
      total += lostSamples;
      gapAt = total;
      onsets.gap(lostSamples);
      return [];
    },
    end() {
      const events: EarEvent[] = [];
      weighOnsets(events, true);
      if (pluck) events.push(judge(pluck, undefined));
      pluck = undefined;
      return events;
    },
    expect(next) {
      expected = next;
    },
    holdOffUntil(atS) {
      heldUntil = atS;
    },
  };
}
