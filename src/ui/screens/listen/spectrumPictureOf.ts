import { ringCurve } from '../../../audio/ringCurve.ts';
import type { Reading } from '../../../contract.ts';
import type { SpectrumPicture } from '../../../drawing/spectrumPicture.ts';
import type { LastExcerpt } from '../../store/appState.ts';

/** The drawing's view of the newest pluck. A reading says which tones were used and where the model has them. */
export function spectrumPicture(excerpt: LastExcerpt, reading: Reading | undefined): SpectrumPicture {
  const assigned = reading?.assignment;
  const tones = excerpt.tones.map((tone) => {
    const known = assigned?.find((one) => Math.abs(one.frequencyHz - tone.frequencyHz) < 1);
    return { frequencyHz: tone.frequencyHz, mode: known?.mode ?? 0 };
  });
  const predicted = (assigned ?? []).flatMap((one) =>
    one.residualPercent === undefined || one.mode === 0
      ? []
      : [{ frequencyHz: one.frequencyHz / (1 + one.residualPercent / 100), mode: one.mode }],
  );
  const { samples, sampleRateHz, onsetS, startS } = excerpt;
  const curve = ringCurve(samples, sampleRateHz, Math.round((onsetS - startS) * sampleRateHz));
  return { curve, tones, predicted };
}
