import { drawingStyle } from './drawingStyle.ts';
import { element, type SvgNode } from './svg.ts';

const escapeText = (value: string): string =>
  value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const escapeAttribute = (value: string): string => escapeText(value).replaceAll('"', '&quot;');

function write(node: SvgNode | string): string {
  if (typeof node === 'string') return escapeText(node);
  const attributes = Object.entries(node.attributes)
    .map(([key, value]) => ` ${key}="${escapeAttribute(String(value))}"`)
    .join('');
  if (node.children.length === 0) return `<${node.name}${attributes}/>`;
  const inner = node.children.map(write).join('');
  return `<${node.name}${attributes}>${inner}</${node.name}>`;
}

/** A file has no page around it: its own colours stand in place of the page's, for viewers that know no variables draw those black. */
const fileStyle = drawingStyle.replace(/var\(--[\w-]+,([^()]*)\)/g, '$1');

/**
 * Writes an SVG tree as a file of its own: XML with the drawing's style inside, readable without the app.
 * @param tree a drawing; its outermost node is `svg`
 * @throws RangeError if the outermost node is not `svg`
 */
export function toMarkup(tree: SvgNode): string {
  if (tree.name !== 'svg') throw new RangeError(`outermost node is ${tree.name}; expected svg`);
  return write({ ...tree, children: [element('style', {}, fileStyle), ...tree.children] });
}
