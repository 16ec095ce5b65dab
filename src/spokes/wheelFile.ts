import * as v from 'valibot';
import { completeWheel } from './completeWheel.ts';
import { foreignSpokes } from './foreignSpokes.ts';
import { LARGEST_FILE } from './largestFile.ts';
import type { NewId } from './ownIds.ts';
import { unknownFields } from './unknownFields.ts';
import { utf8Length } from './utf8Length.ts';
import { WHEEL_FORMAT, WHEEL_VERSION, type Wheel, type WheelFile } from './wheel.ts';
import { wheelSchema } from './wheelFileSchema.ts';
import type { WheelProblem, WheelProblemReason } from './wheelProblem.ts';

export type WheelRead =
  | {
      readonly ok: true;
      readonly wheel: Wheel;
      /** Fields that the format does not know, and rounds with spokes that the wheel does not have: passed over, and said. */
      readonly ignored: readonly WheelProblem[];
      /** What had the id of another of its kind: both are kept. */
      readonly newIds: readonly NewId[];
    }
  | Refused;
type Refused = { readonly ok: false; readonly problems: readonly WheelProblem[] };

/** A file's text as JSON, a byte order mark in front or not. */
export function parseFile(text: string): { readonly ok: true; readonly json: unknown } | Refused {
  if (text.length > LARGEST_FILE) return refused('', 'tooBig', `${text.length} > ${LARGEST_FILE}`);
  try {
    return { ok: true, json: JSON.parse(text.replace(/^\uFEFF/, '')) };
  } catch (error) {
    return refused('', 'notJson', error instanceof Error ? error.message : '–');
  }
}

/**
 * The one gate through which a wheel comes in: from a file, from storage, from another's hand.
 *
 * @param json The file's text, or what was parsed from it.
 * @returns The wheel with every default filled in, or every problem with its place. Never throws.
 */
export function readWheelFile(json: unknown): WheelRead {
  let file: unknown = json;
  if (typeof json === 'string') {
    const parsed = parseFile(json);
    if (!parsed.ok) return parsed;
    file = parsed.json;
  }
  if (!isRecord(file) || file.format !== WHEEL_FORMAT) return refused('format', 'notAWheelFile', WHEEL_FORMAT);
  const version = file.version === undefined ? WHEEL_VERSION : file.version;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return refused('version', 'wrongType', `${WHEEL_VERSION}`);
  if (version > WHEEL_VERSION) return refused('version', 'newerVersion', `${version} > ${WHEEL_VERSION}`);
  if (file.wheel === undefined) return refused('wheel', 'missing', 'wheel');

  const parsed = v.safeParse(wheelSchema, file.wheel);
  if (!parsed.success) return { ok: false, problems: parsed.issues.map(problemOf) };
  const { unknown, lists } = unknownFields(wheelSchema, file.wheel);
  if (lists.length > 0)
    return {
      ok: false,
      problems: lists.map((path) => ({ path: `wheel.${path}`, reason: 'wrongType', detail: 'Object, not Array' })),
    };
  const { wheel, problems, newIds } = completeWheel(parsed.output);
  if (problems.length > 0) return { ok: false, problems: problems.map((p) => ({ ...p, path: `wheel.${p.path}` })) };
  const around = Object.keys(file).filter((key) => !['format', 'version', 'wheel', '$schema'].includes(key));
  const inside = unknown.map((path) => `wheel.${path}`);
  const fields = [...around, ...inside].map((path): WheelProblem => ({ path, reason: 'unknownField', detail: path }));
  const foreign = foreignSpokes(wheel).map((one) => ({ ...one, path: `wheel.${one.path}` }));
  const ignored = [...fields, ...foreign];
  return { ok: true, wheel, ignored, newIds };
}

/**
 * The wheel's file: canonical order of fields, every default written out, so that equal wheels are equal files. Indented for whoever reads
 * it, unless only that makes it too large to be read again.
 *
 * @throws RangeError if the wheel could not be read back (a figure that is not a number, for one): nothing unreadable is ever written.
 */
export function writeWheelFile(wheel: Wheel): string {
  const file = wheelFileOf(wheel);
  const indented = `${JSON.stringify(file, undefined, 2)}\n`;
  return utf8Length(indented) <= LARGEST_FILE ? indented : `${JSON.stringify(file)}\n`;
}

/** The same before it is text. */
export function wheelFileOf(wheel: Wheel): WheelFile {
  const read = readWheelFile({ format: WHEEL_FORMAT, version: WHEEL_VERSION, wheel });
  if (!read.ok) {
    const [first] = read.problems;
    throw new RangeError(`wheel ${first?.path}: expected ${first?.detail}`);
  }
  return { format: WHEEL_FORMAT, version: WHEEL_VERSION, wheel: read.wheel };
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const refused = (path: string, reason: WheelProblemReason, detail: string): Refused => ({
  ok: false,
  problems: [{ path, reason, detail }],
});

function problemOf(issue: v.BaseIssue<unknown>): WheelProblem {
  const path = ['wheel', ...(issue.path ?? []).map((item) => String(item.key))].join('.');
  return { path, reason: reasonOf(issue), detail: `${issue.expected ?? '–'}, not ${issue.received}`.slice(0, 300) };
}

function reasonOf(issue: v.BaseIssue<unknown>): WheelProblemReason {
  if (issue.received === 'undefined') return 'missing';
  switch (issue.type) {
    case 'picklist':
    case 'literal':
    case 'variant':
      return 'unknownWord';
    case 'max_length':
      return 'tooLong';
    case 'finite':
    case 'integer':
    case 'min_value':
    case 'max_value':
    case 'gt_value':
      return 'outOfRange';
    default:
      return 'wrongType';
  }
}
