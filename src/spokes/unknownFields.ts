import type * as v from 'valibot';

type Schema = v.GenericSchema & {
  readonly entries?: Readonly<Record<string, Schema>>;
  readonly item?: Schema;
  readonly value?: Schema;
  readonly wrapped?: Schema;
  readonly options?: readonly Schema[];
  readonly pipe?: readonly unknown[];
  readonly key?: unknown;
};
/** More than these are not listed: the file is another's. */
const MOST_NAMED = 100;

interface Found {
  /** Fields that the schema does not know. */
  readonly unknown: string[];
  /** Lists where the schema has named fields: the schema library lets them pass as objects. */
  readonly lists: string[];
}

/**
 * What the schema itself passes over in silence, by path: a slip of the pen in an optional field must be said.
 *
 * @returns At most a hundred of each.
 */
export function unknownFields(schema: v.GenericSchema, input: unknown): Found {
  const found: Found = { unknown: [], lists: [] };
  walk(schema as Schema, input, '', found);
  return { unknown: found.unknown.slice(0, MOST_NAMED), lists: found.lists.slice(0, MOST_NAMED) };
}

function walk(schema: Schema, input: unknown, path: string, found: Found): void {
  if (typeof input !== 'object' || input === null || found.unknown.length > MOST_NAMED) return;
  const at = (key: string | number) => (path === '' ? `${key}` : `${path}.${key}`);
  switch (schema.type) {
    case 'optional':
      if (schema.wrapped) walk(schema.wrapped, input, path, found);
      return;
    case 'array':
      if (Array.isArray(input) && schema.item)
        for (const [i, item] of input.entries()) walk(schema.item, item, at(i), found);
      return;
    case 'record':
      if (Array.isArray(input)) found.lists.push(path);
      for (const [key, value] of Object.entries(input)) if (schema.value) walk(schema.value, value, at(key), found);
      return;
    case 'union': {
      // Of the unions here one member at most is an object.
      const object = schema.options?.find((option) => option.type === 'object');
      if (object) walk(object, input, path, found);
      return;
    }
    case 'variant': {
      const tag = String(schema.key);
      const chosen = schema.options?.find(
        (option) =>
          (option.entries?.[tag] as { literal?: unknown } | undefined)?.literal ===
          (input as Record<string, unknown>)[tag],
      );
      if (chosen) walk(chosen, input, path, found);
      return;
    }
    case 'object': {
      if (Array.isArray(input)) {
        found.lists.push(path);
        return;
      }
      const entries = schema.entries ?? {};
      for (const [key, value] of Object.entries(input)) {
        const entry = Object.hasOwn(entries, key) ? entries[key] : undefined;
        if (entry === undefined) found.unknown.push(at(key));
        else walk(entry, value, at(key), found);
      }
      return;
    }
    default:
      return;
  }
}
