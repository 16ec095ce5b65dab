import type { ReportSpoke } from './reportView.ts';

export interface ModeTones {
  readonly mode: number;
  /** Absent for the part that is plucked; the part at the hub and a touching pair count their modes by themselves. */
  readonly family?: 'hub' | 'pair';
  /** Mean over the plucks that gave it. */
  readonly frequencyHz: number;
  readonly count: number;
}

const apart = (family: string): 'hub' | 'pair' | undefined =>
  family === 'hub' || family === 'pair' ? family : undefined;

/** A spoke's tones mode by mode, ascending, the plucked part's first: what several plucks gave, put together for a table. */
export function tonesByMode(tones: ReportSpoke['tones']): readonly ModeTones[] {
  return [undefined, 'pair' as const, 'hub' as const].flatMap((family) => {
    const own = tones.filter((tone) => apart(tone.family) === family);
    return [...new Set(own.map((tone) => tone.mode))]
      .toSorted((a, b) => a - b)
      .map((mode) => {
        const heard = own.filter((tone) => tone.mode === mode);
        return {
          mode,
          ...(family === undefined ? {} : { family }),
          frequencyHz: heard.reduce((sum, { frequencyHz }) => sum + frequencyHz, 0) / heard.length,
          count: heard.length,
        };
      });
  });
}
