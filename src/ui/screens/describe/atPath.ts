type Box = Record<string, unknown>;
const isBox = (value: unknown): value is Box => typeof value === 'object' && value !== null;

/**
 * Keys of a path: dotted, or a JSON Pointer where it starts with `/` (names of spoke kinds hold dots).
 * @source RFC 6901, JSON Pointer, section 4
 */
const keysOf = (path: string): readonly string[] =>
  path.startsWith('/')
    ? path
        .slice(1)
        .split('/')
        .map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~'))
    : path.split('.');

/** One key of a JSON Pointer. */
export const pointerKey = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1');

/** What a path leads to, or undefined. */
export function getAt(from: unknown, path: string): unknown {
  return keysOf(path).reduce<unknown>((at, key) => (isBox(at) && Object.hasOwn(at, key) ? at[key] : undefined), from);
}

/** A copy with one place changed; `undefined` removes it. Objects on the way are made where they are missing. */
export function setAt<Whole>(whole: Whole, path: string, value: unknown): Whole {
  return change(whole, keysOf(path), value) as Whole;
}

function change(at: unknown, path: readonly string[], value: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return value;
  const copy: Box = Array.isArray(at) ? (Object.assign([], at) as unknown as Box) : isBox(at) ? { ...at } : {};
  const next = change(copy[key], rest, value);
  if (next === undefined) delete copy[key];
  else copy[key] = next;
  return copy;
}
