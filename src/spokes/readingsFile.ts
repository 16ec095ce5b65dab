import * as v from 'valibot';
import type { MeasureRefusal, Reading } from '../contract.ts';

export const READINGS_FORMAT = 'ringtrue-readings';
export const READINGS_VERSION = 1;

/** The tensions of one round as they were handed out: what whoever computes them again must find. */
export interface StoredReadings {
  /** What computed them, in words. */
  readonly by: string;
  readonly roundId: string;
  readonly spokes: readonly StoredReading[];
}
/** Of one spoke, not rounded; or why there is none. */
export type StoredReading =
  | { readonly spoke: number; readonly tensionN: number; readonly uOwnN: number; readonly uCommonN: number }
  | { readonly spoke: number; readonly reason: string };

export type ReadingsRead =
  | { readonly ok: true; readonly stored: StoredReadings }
  | {
      readonly ok: false;
      readonly reason: 'notJson' | 'notReadings' | 'newerVersion' | 'broken';
      readonly detail: string;
    };

const positive = v.pipe(v.number(), v.finite(), v.gtValue(0));
const schema = v.object({
  format: v.literal(READINGS_FORMAT),
  version: v.number(),
  by: v.string(),
  roundId: v.string(),
  spokes: v.array(
    v.union([
      v.object({ spoke: v.number(), tensionN: positive, uOwnN: v.number(), uCommonN: v.number() }),
      v.object({ spoke: v.number(), reason: v.string() }),
    ]),
  ),
});

/** The readings of one round as a file beside the wheel's. */
export function writeReadings(
  by: string,
  roundId: string,
  readings: Iterable<readonly [number, Reading | MeasureRefusal]>,
): string {
  const spokes = [...readings]
    .toSorted(([a], [b]) => a - b)
    .map(([spoke, reading]): StoredReading => {
      if (!reading.ok) return { spoke, reason: reading.reason };
      const { tensionN, uOwnN, uCommonN } = reading;
      return { spoke, tensionN, uOwnN, uCommonN };
    });
  const file = { format: READINGS_FORMAT, version: READINGS_VERSION, by, roundId, spokes };
  return `${JSON.stringify(file, undefined, 2)}\n`;
}

/** Reads that file back; one of a newer version is refused by name. */
export function readReadings(text: string): ReadingsRead {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return { ok: false, reason: 'notJson', detail: error instanceof Error ? error.message : '–' };
  }
  const { format, version } = (json ?? {}) as { readonly format?: unknown; readonly version?: unknown };
  if (format !== READINGS_FORMAT) return { ok: false, reason: 'notReadings', detail: READINGS_FORMAT };
  if (typeof version === 'number' && version > READINGS_VERSION)
    return { ok: false, reason: 'newerVersion', detail: `${version} > ${READINGS_VERSION}` };
  const parsed = v.safeParse(schema, json);
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return { ok: false, reason: 'broken', detail: v.getDotPath(issue) ?? issue.message };
  }
  const { by, roundId, spokes } = parsed.output;
  return { ok: true, stored: { by, roundId, spokes } };
}
