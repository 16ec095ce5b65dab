import type { ReportSpoke } from './reportView.ts';

export interface ModeTones {
  readonly mode: number;
  /** Mean over the plucks that gave it. */
  readonly frequencyHz: number;
  readonly count: number;
}

/** A spoke's tones mode by mode, ascending: what several plucks gave, put together for a table. */
export function tonesByMode(tones: ReportSpoke['tones']): readonly ModeTones[] {
  const byMode = new Map<number, number[]>();
  for (const { mode, frequencyHz } of tones) byMode.set(mode, [...(byMode.get(mode) ?? []), frequencyHz]);
  return [...byMode]
    .map(([mode, heard]) => ({
      mode,
      frequencyHz: heard.reduce((sum, one) => sum + one, 0) / heard.length,
      count: heard.length,
    }))
    .toSorted((a, b) => a.mode - b.mode);
}
