import { ringCurve } from '../../../audio/ringCurve.ts';
import type { Reading } from '../../../contract.ts';
import type { SpectrumPicture } from '../../../drawing/spectrumPicture.ts';
import type { LastExcerpt } from '../../store/appState.ts';

/**
 * Noise of 16-bit samples, (2⁻¹⁵)²/12 spread over half of 48 kHz, dB of full scale squared a hertz. A microphone's own is louder; what is lower was
 * switched off.
 *
 * @source Bennett (1948), Spectra of quantized signals, Bell Syst. Tech. J. 27, 446–472: q²/12
 */
const FLOOR_DB = 10 * Math.log10(2 ** -30 / 12 / 24_000);

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
  return { floorDb: FLOOR_DB, curve, tones, predicted };
}
