import type { Refusal } from '../contract.ts';

/** From this time on, plucks are of this spoke. */
export interface Cue {
  readonly timeS: number;
  readonly spoke: number;
}
export type Cues = { readonly ok: true; readonly cues: readonly Cue[] } | Refusal<'badCues'>;

/**
 * Reads a cue list: one line a cue, time in seconds and spoke number, divided by comma, semicolon, tab or blank.
 * A first line of words is a heading. Cues are sorted by time; a bad line is refused by its number.
 */
export function readCues(text: string, spokeCount: number): Cues {
  const cues: Cue[] = [];
  const lines = text.split(/\r?\n/);
  for (const [index, line] of lines.entries()) {
    const trimmed = line.trim();
    if (trimmed === '' || trimmed.startsWith('#')) continue;
    const [time, spoke, ...rest] = trimmed.split(/[;\t]\s*|,\s+|,(?=\d+$)|\s+/);
    const timeS = Number(time?.replace(',', '.'));
    const number = Number(spoke);
    if (index === 0 && Number.isNaN(timeS)) continue;
    const good = rest.length === 0 && timeS >= 0 && Number.isInteger(number) && number >= 1 && number <= spokeCount;
    if (!good) return { ok: false, reason: 'badCues', detail: `line ${index + 1}: "${trimmed.slice(0, 60)}"` };
    cues.push({ timeS, spoke: number });
  }
  if (cues.length === 0) return { ok: false, reason: 'badCues', detail: 'no line holds a time and a spoke number' };
  return { ok: true, cues: cues.sort((a, b) => a.timeS - b.timeS) };
}

/** A pluck belongs to the last cue at or before it; one just before its cue (within the slack) still counts. */
export function spokeAt(onsetS: number, cues: readonly Cue[], slackS = 0.15): number | undefined {
  return cues.findLast((cue) => cue.timeS <= onsetS + slackS)?.spoke;
}
