import type { Wheel } from '../../spokes/wheel.ts';
import { readWheelFile, writeWheelFile } from '../../spokes/wheelFile.ts';
import { wheelProblemText } from '../text/wheelProblemText.ts';
import type { FileProblem } from './message.ts';

/** A file that holds every wheel of a device: each in the very form of its own file. */
export const WHEELS_FORMAT = 'ringtrue-wheels';
export const WHEELS_VERSION = 1;

export type WheelsRead =
  | { readonly ok: true; readonly wheels: readonly Wheel[] }
  | { readonly ok: false; readonly problem: FileProblem; readonly detail?: string };

export function writeWheels(wheels: readonly Wheel[]): string {
  const files = wheels.map((wheel) => JSON.parse(writeWheelFile(wheel)) as unknown);
  return `${JSON.stringify({ format: WHEELS_FORMAT, version: WHEELS_VERSION, wheels: files }, undefined, 2)}\n`;
}

/** Reads one wheel's file or a file of many; every wheel passes the gate, and one that fails spoils the file. */
export function readWheels(text: string): WheelsRead {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return { ok: false, problem: 'fileNotJson' };
  }
  const { format, version, wheels } = (json ?? {}) as { format?: unknown; version?: unknown; wheels?: unknown };
  if (format !== WHEELS_FORMAT) return readAll([json]);
  if (typeof version === 'number' && version > WHEELS_VERSION)
    return { ok: false, problem: 'fileNewer', detail: `${version}` };
  if (!Array.isArray(wheels))
    return {
      ok: false,
      problem: 'fileBroken',
      detail: wheelProblemText({ path: 'wheels', reason: 'wrongType', detail: 'a list' }),
    };
  return wheels.length === 0 ? { ok: false, problem: 'fileEmpty' } : readAll(wheels);
}

function readAll(files: readonly unknown[]): WheelsRead {
  const wheels: Wheel[] = [];
  for (const file of files) {
    const read = readWheelFile(file);
    if (read.ok) {
      wheels.push(read.wheel);
      continue;
    }
    const [first] = read.problems;
    if (first?.reason === 'notAWheelFile') return { ok: false, problem: 'fileNotOurs' };
    if (first?.reason === 'newerVersion') return { ok: false, problem: 'fileNewer', detail: first.detail };
    return { ok: false, problem: 'fileBroken', ...(first ? { detail: wheelProblemText(first) } : {}) };
  }
  return { ok: true, wheels };
}
