/** A node of an SVG tree: plain data, the same for the screen, for print and for a file. */
export interface SvgNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (SvgNode | string)[];
}

type Attributes = Readonly<Record<string, string | number | undefined>>;
type Child = SvgNode | string | undefined | false;

/**
 * Makes one node of an SVG tree.
 * Absent attributes and children are left out; numbers are rounded to a hundredth of a unit, which no screen or printer resolves.
 * @param name element name
 * @param attributes attribute values; `undefined` leaves the attribute out
 * @param children nodes and text, in drawing order; arrays may be nested one deep
 * @throws RangeError if a number is not finite: a drawing never hides a broken figure
 */
export function element(
  name: string,
  attributes: Attributes,
  ...children: readonly (Child | readonly Child[])[]
): SvgNode {
  const kept: Record<string, string | number> = {};
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    if (typeof value === 'number' && !Number.isFinite(value))
      throw new RangeError(`${name} ${key} is ${value}; expected a finite number`);
    kept[key] = typeof value === 'number' ? Math.round(value * 100) / 100 : value;
  }
  const flat = children.flat().filter((child): child is SvgNode | string => child !== undefined && child !== false);
  return { name, attributes: kept, children: flat };
}
