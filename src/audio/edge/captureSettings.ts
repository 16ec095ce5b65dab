import type { CaptureSettings } from '../../contract.ts';
import { hertz } from '../../units.ts';

const STAGES = ['echoCancellation', 'noiseSuppression', 'autoGainControl'] as const;

/** What the device said of itself, with a missing value left out: unknown is not off. */
export function readCaptureSettings(track: MediaTrackSettings, label: string, contextRateHz: number): CaptureSettings {
  const known: { -readonly [Stage in (typeof STAGES)[number]]?: boolean } = {};
  for (const stage of STAGES) {
    const value = (track as Record<string, unknown>)[stage];
    if (value !== undefined) known[stage] = isOn(value);
  }
  return { sampleRateHz: hertz(contextRateHz), ...known, ...(label ? { deviceLabel: label } : {}) };
}

/** The processing stages that are certainly still on, in the words of the sentence about them. */
export function stagesStillOn(track: MediaTrackSettings): readonly string[] {
  const words = {
    echoCancellation: 'echo cancellation',
    noiseSuppression: 'noise suppression',
    autoGainControl: 'gain control',
  };
  const stages = STAGES.filter((stage) => isOn((track as Record<string, unknown>)[stage])).map((stage) => words[stage]);
  return isOn((track as Record<string, unknown>).voiceIsolation) ? [...stages, 'voice isolation'] : stages;
}

/** Newer browsers name the kind of echo cancellation (`'all'`, `'remote-only'`) where older ones say `true`. */
const isOn = (value: unknown): boolean => value === true || (typeof value === 'string' && value !== 'none');

/** Wireless headsets send telephone sound, late: refused by the name the system gives them. */
export const bluetoothLabel = (label: string): boolean => /bluetooth|\bBT\b|hands-?free|\bHFP\b|\bHSP\b/i.test(label);
