import { ringSpectrum } from '../../../audio/ringSpectrum.ts';
import type { Reading } from '../../../contract.ts';
import type { SpectrumPicture } from '../../../drawing/spectrumPicture.ts';
import type { LastExcerpt } from '../../store/appState.ts';

/** Transform length; a second of sound at 48 kHz fits in. */
const SIZE = 65536;
/** Points of the curve: as many as a screen is wide. */
const POINTS = 480;
const HIGHEST_HZ = 6000;
/** The knock of the finger is left out, as the ear does. */
const AFTER_ONSET_S = 0.02;
const RING_S = 1;

/** The drawing's view of the newest pluck. A reading says which tones were used and where the model has them. */
export function spectrumPicture(excerpt: LastExcerpt, reading: Reading | undefined): SpectrumPicture {
  const rate = excerpt.sampleRateHz;
  const from = Math.max(0, Math.round((excerpt.onsetS - excerpt.startS + AFTER_ONSET_S) * rate));
  const segment = excerpt.samples.subarray(
    from,
    Math.min(excerpt.samples.length, from + Math.min(SIZE, RING_S * rate)),
  );
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
  if (segment.length < 64) return { curve: [], tones, predicted };
  const spectrum = ringSpectrum(segment, rate, SIZE);
  const bins = Math.min(spectrum.density.length, Math.floor(HIGHEST_HZ / spectrum.binHz));
  const curve = Array.from({ length: POINTS }, (_, i) => {
    const a = Math.floor((i * bins) / POINTS);
    const b = Math.max(a + 1, Math.floor(((i + 1) * bins) / POINTS));
    let most = 1e-20;
    for (let k = a; k < b; k++) most = Math.max(most, spectrum.density[k] ?? 0);
    return { frequencyHz: ((a + b) / 2) * spectrum.binHz, levelDb: 10 * Math.log10(most) };
  });
  return { curve, tones, predicted };
}
