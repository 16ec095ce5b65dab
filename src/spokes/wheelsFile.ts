import { ownIds } from './ownIds.ts';
import type { Wheel } from './wheel.ts';
import { parseFile, readWheelFile, type WheelRead, wheelFileOf } from './wheelFile.ts';
import type { WheelProblem } from './wheelProblem.ts';

/** A file that holds every wheel of a device: each in the very form of its own file. */
export const WHEELS_FORMAT = 'ringtrue-wheels';
export const WHEELS_VERSION = 1;

export type WheelsRead =
  /** In the file's order; none where the file holds none. */
  | { readonly ok: true; readonly wheels: readonly Extract<WheelRead, { ok: true }>[] }
  | { readonly ok: false; readonly problems: readonly WheelProblem[] };

/** Written without indentation: that takes more than half of a backup, which must stay small enough to be read again. */
export function writeWheels(wheels: readonly Wheel[]): string {
  return `${JSON.stringify({ format: WHEELS_FORMAT, version: WHEELS_VERSION, wheels: wheels.map(wheelFileOf) })}\n`;
}

/**
 * Reads one wheel's file or a file of many; every wheel passes the gate, and one that fails spoils the file. Two wheels of one id are kept
 * both, see `ownIds`.
 *
 * @returns Problems of a file of many begin with the place of the wheel in it, from 0: `wheels.2.wheel.layout`.
 */
export function readWheels(text: string): WheelsRead {
  const parsed = parseFile(text);
  if (!parsed.ok) return parsed;
  const { format, version, wheels } = (parsed.json ?? {}) as { format?: unknown; version?: unknown; wheels?: unknown };
  if (format !== WHEELS_FORMAT) {
    const read = readWheelFile(parsed.json);
    return read.ok ? { ok: true, wheels: [read] } : read;
  }
  if (typeof version === 'number' && version > WHEELS_VERSION)
    return refused({ path: 'version', reason: 'newerVersion', detail: `${version} > ${WHEELS_VERSION}` });
  if (!Array.isArray(wheels)) return refused({ path: 'wheels', reason: 'wrongType', detail: 'a list' });
  const reads = wheels.map(readWheelFile);
  const problems = reads.flatMap((read, i) =>
    read.ok ? [] : read.problems.map((one) => ({ ...one, path: `wheels.${i}${one.path && `.${one.path}`}` })),
  );
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, wheels: eachOwn(reads.filter((read) => read.ok)) };
}

function eachOwn(reads: readonly Extract<WheelRead, { ok: true }>[]): readonly Extract<WheelRead, { ok: true }>[] {
  const wheels = ownIds(
    reads.map(({ wheel }) => wheel),
    'wheel',
    [],
  );
  return reads.map((read, i) => {
    const wheel = wheels[i] ?? read.wheel;
    if (wheel.id === read.wheel.id) return read;
    return { ...read, wheel, newIds: [{ what: 'wheel', was: read.wheel.id, now: wheel.id }, ...read.newIds] };
  });
}

const refused = (problem: WheelProblem): WheelsRead => ({ ok: false, problems: [problem] });
