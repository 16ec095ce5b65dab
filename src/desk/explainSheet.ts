import { ringCurve } from '../audio/ringCurve.ts';
import { explainDrawing } from '../drawing/explainDrawing.ts';
import { toMarkup } from '../drawing/toMarkup.ts';
import type { HeardSound } from './hearRecording.ts';
import type { MeasuredPluck } from './measure.ts';
import { refusalText } from './refusalText.ts';

/** So much of the spectrum is shown at least. */
const LEAST_SHOWN_HZ = 3000;

/** One SVG for one sound: what was heard, which tones were taken for which modes, and what it means. */
export function explainSheet(title: string, sampleRateHz: number, sound: HeardSound, pluck: MeasuredPluck): string {
  const { excerpt, excerptStartS, onsetS } = sound;
  const onsetIndex = Math.round((onsetS - excerptStartS) * sampleRateHz);
  const assigned = pluck.assignment ?? [];
  const tones = pluck.tones.map((tone, i) => {
    const { mode, residualPercent } = assigned.find(({ toneIndex }) => toneIndex === i) ?? { mode: 0 };
    const { frequencyHz, uHz, levelDb, decayS } = tone;
    return { frequencyHz, uHz, levelDb, decayS, mode, ...(residualPercent !== undefined && { residualPercent }) };
  });
  const predicted = assigned.flatMap(({ frequencyHz, mode, residualPercent }) =>
    mode > 0 && residualPercent !== undefined ? [{ frequencyHz: frequencyHz / (1 + residualPercent / 100), mode }] : [],
  );
  const highestHz = Math.max(LEAST_SHOWN_HZ, ...tones.map((tone) => 1.15 * tone.frequencyHz));
  const picture = {
    title: `${title}, ${onsetS.toFixed(2)} s`,
    sampleRateHz,
    samples: excerpt,
    onsetIndex,
    spectrum: { curve: ringCurve(excerpt, sampleRateHz, onsetIndex, { highestHz }), tones, predicted },
    tones,
    answer: answerOf(pluck),
  };
  return toMarkup(explainDrawing(picture));
}

function answerOf({ spoke, tensionN, uOwnN, uCommonN, reason, detail }: MeasuredPluck): string {
  const place = spoke === undefined ? '' : `spoke ${spoke}: `;
  if (tensionN === undefined) return `${place}no tension${reason ? `. ${refusalText(reason, detail)}` : ''}`;
  const expanded = 2 * Math.hypot(uOwnN ?? 0, uCommonN ?? 0);
  return `${place}${tensionN.toFixed(0)} N ± ${expanded.toFixed(0)} N (k = 2)`;
}
