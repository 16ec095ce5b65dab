import type { MeasureRefusal } from '../../../contract.ts';
import type { SpokeMark } from '../../../drawing/stateMark.ts';
import { type EvennessVerdict, evennessVerdicts } from '../../../spokes/evennessVerdict.ts';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import { type JudgedSpoke, judgeWheel, type WheelJudgement } from '../../../spokes/judgeWheel.ts';
import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';
import { relativeTensions } from '../../../spokes/relativeTensions.ts';
import { rereadRound } from '../../../spokes/rereadRound.ts';
import { allSettlings } from '../../../spokes/walkRound.ts';
import type { Round, Side, Wheel } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import type { MeasuredRound } from '../../store/appState.ts';
import { MEASURE_REASON_TEXT } from '../../text/measureReasonText.ts';
import { type ShownFigure, showTension, signed } from './showTension.ts';
import { EVENNESS_WORDS, LIMIT_WORDS, markOf } from './verdictWords.ts';

/** One spoke as the screens tell it. */
export interface SpokeView {
  readonly number: number;
  readonly side: Side;
  readonly mark: SpokeMark;
  /** `within, tight` … */
  readonly word: string;
  readonly figure?: ShownFigure;
  /** Why it has no figure, and what to do. */
  readonly whyNot?: { readonly sentence: string; readonly next: string };
  readonly judged: JudgedSpoke;
  readonly evenness?: EvennessVerdict;
  readonly heard: 'no' | 'once' | 'settled' | 'skipped';
}

export interface Judgement {
  /** `evenness`: relative figures only. */
  readonly kind: 'tension' | 'evenness';
  readonly unit: TensionUnit;
  readonly laid: readonly LaidSpoke[];
  readonly spokes: ReadonlyMap<number, SpokeView>;
  readonly judged: WheelJudgement;
  readonly status: 'working' | 'ready' | 'failed';
}

/** A mean of fewer spokes says nothing about any of them. */
const FEWEST_FOR_EVENNESS = 3;

/** Everything that Listen and Judge tell of a round, from what the worker measured. */
export function judgementOf(
  wheel: Wheel,
  round: Round,
  measured: MeasuredRound | undefined,
  unit: TensionUnit,
): Judgement {
  const laid = expandLayout(wheel.layout);
  const places = laid.ok ? laid.spokes : [];
  const reread = rereadRound(wheel, round, measured?.readings ?? {}, measured?.learned ?? {});
  const judged = judgeWheel(wheel, round, reread.readings, {}, reread.described);
  const kind = wheel.layout.kind === 'evenness' ? 'evenness' : 'tension';
  const settlings = allSettlings({ round, sides: places.map((place) => place.side) });
  const relative = kind === 'evenness' ? evennessByTone(wheel, places, settlings) : undefined;
  const counts = { left: 0, right: 0 };
  for (const one of judged.spokes) if (relative ? relative.has(one.number) : one.reading?.ok) counts[one.side]++;
  const spokes = new Map<number, SpokeView>();
  for (const one of judged.spokes) {
    const settling = settlings[one.number - 1];
    const heard = round.skipped.includes(one.number)
      ? 'skipped'
      : settling?.state === 'settled'
        ? 'settled'
        : settling !== undefined && settling.agreeing.length > 0
          ? 'once'
          : 'no';
    const known = relative ? relative.get(one.number) : one.evenness;
    const evenness = counts[one.side] >= FEWEST_FOR_EVENNESS ? known : undefined;
    spokes.set(one.number, spokeView(one, evenness, heard, kind, unit));
  }
  return { kind, unit, laid: places, spokes, judged, status: measured?.status ?? 'working' };
}

function spokeView(
  judged: JudgedSpoke,
  evenness: EvennessVerdict | undefined,
  heard: SpokeView['heard'],
  kind: Judgement['kind'],
  unit: TensionUnit,
): SpokeView {
  const base = { number: judged.number, side: judged.side, judged, heard, ...(evenness ? { evenness } : {}) };
  const reading = judged.reading;
  if (kind === 'evenness') {
    if (evenness === undefined || heard !== 'settled') return { ...base, ...unheard(heard) };
    return {
      ...base,
      mark: markOf(undefined, evenness.word),
      word: EVENNESS_WORDS[evenness.word],
      figure: { value: signed(evenness.deviationPercent), plusMinus: evenness.expandedPercent.toFixed(1), unit: '%' },
    };
  }
  if (reading === undefined || heard === 'no' || heard === 'once' || heard === 'skipped')
    return { ...base, ...unheard(heard) };
  if (!reading.ok) return { ...base, mark: 'heardOnce', word: 'no figure', whyNot: whyNot(reading) };
  const limit = judged.limit;
  const words = [
    limit === undefined || limit.word === 'noLimit' ? undefined : LIMIT_WORDS[limit.word],
    evenness === undefined ? undefined : EVENNESS_WORDS[evenness.word],
  ].filter((word) => word !== undefined);
  return {
    ...base,
    mark: markOf(limit?.word, evenness?.word),
    word: words.length === 0 ? 'heard; no limit given' : words.join(', '),
    figure: showTension(reading.tensionN, 2 * Math.hypot(reading.uOwnN, reading.uCommonN), unit),
  };
}

const unheard = (heard: SpokeView['heard']): { readonly mark: SpokeMark; readonly word: string } =>
  heard === 'skipped'
    ? { mark: 'skipped', word: 'passed over' }
    : heard === 'once'
      ? { mark: 'heardOnce', word: 'heard, not settled' }
      : heard === 'settled'
        ? { mark: 'settled', word: 'heard' }
        : { mark: 'waiting', word: 'not heard' };

function whyNot(refusal: MeasureRefusal): NonNullable<SpokeView['whyNot']> {
  const { sentence, next } = MEASURE_REASON_TEXT[refusal.reason];
  return { sentence, next: refusal.detail === undefined ? next : `${next} (${refusal.detail})` };
}

/** Relative tension by tone, judged against the target side by side. */
function evennessByTone(
  wheel: Wheel,
  places: readonly LaidSpoke[],
  settlings: ReturnType<typeof allSettlings>,
): ReadonlyMap<number, EvennessVerdict> {
  const used = new Map(
    settlings.flatMap((one, i) => (one.state === 'settled' ? [[i + 1, one.agreeing] as const] : [])),
  );
  const relative = relativeTensions(
    used,
    places.map((place) => place.side),
  );
  const verdicts = new Map<number, EvennessVerdict>();
  for (const side of ['left', 'right'] as const) {
    const own = relative.filter((one) => one.side === side);
    // Relative to a mean of 100, so that the rule for tensions serves.
    const judged = evennessVerdicts(
      own.map((one) => ({ value: 100 + one.deviationPercent, uOwn: one.uPercent })),
      wheel.targetPercent,
    );
    for (const [i, one] of own.entries()) {
      const verdict = judged[i];
      if (verdict !== undefined) verdicts.set(one.spoke, verdict);
    }
  }
  return verdicts;
}
