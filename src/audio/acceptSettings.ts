import type { CaptureSettings, Refusal } from '../contract.ts';

/** Below this a live input is a headset or a voice channel. @source Bluetooth HFP 1.8: 8 or 16 kHz (super-wideband 32 kHz) */
export const LOWEST_LIVE_RATE_HZ = 32_000;
/** Below this a file holds too little of the upper tones. */
export const LOWEST_FILE_RATE_HZ = 16_000;
export const HIGHEST_RATE_HZ = 192_000;

/** A stage of the system's own sound processing whose state the system does not tell. */
export type CaptureWarning = 'echoCancellationUnknown' | 'noiseSuppressionUnknown' | 'autoGainControlUnknown';

export interface Accepted {
  readonly ok: true;
  readonly warnings: readonly CaptureWarning[];
}

/**
 * May this input be listened to?
 * A live input below 32 kHz is refused (`rateTooLow`), and one whose system still edits the sound (`processed`); stages the
 * system says nothing of come back as warnings. A file is held only to 16–192 kHz: what made it is not known.
 * @param settings what the input says of itself.
 * @param source `live`: a microphone now; `file`: a recording.
 */
export function acceptSettings(
  settings: CaptureSettings,
  source: 'live' | 'file',
): Accepted | Refusal<'rateTooLow' | 'processed'> {
  const lowest = source === 'live' ? LOWEST_LIVE_RATE_HZ : LOWEST_FILE_RATE_HZ;
  if (!(settings.sampleRateHz >= lowest))
    return { ok: false, reason: 'rateTooLow', detail: `${settings.sampleRateHz} Hz` };
  if (source === 'file') return { ok: true, warnings: [] };
  const on = (['echoCancellation', 'noiseSuppression', 'autoGainControl'] as const).filter((s) => settings[s] === true);
  if (on.length > 0) return { ok: false, reason: 'processed', detail: on.join(', ') };
  const warnings: CaptureWarning[] = [];
  if (settings.echoCancellation === undefined) warnings.push('echoCancellationUnknown');
  if (settings.noiseSuppression === undefined) warnings.push('noiseSuppressionUnknown');
  if (settings.autoGainControl === undefined) warnings.push('autoGainControlUnknown');
  return { ok: true, warnings };
}
