import { h, type VNode } from 'preact';
import { drawingStyle } from '../../drawing/drawingStyle.ts';
import type { SvgNode } from '../../drawing/svg.ts';

/** What is of one spoke keeps its place among the others when one of them is drawn elsewhere. */
const render = (node: SvgNode | string, index: number): VNode | string => {
  if (typeof node === 'string') return node;
  const spoke = node.attributes['data-spoke'];
  const key = spoke === undefined ? index : `spoke ${spoke}`;
  return h(node.name, { ...node.attributes, key }, node.children.map(render));
};

let inked = false;
/** The drawing's own style, put into the page once, when the first drawing is shown. */
function ink(): void {
  if (inked || typeof document === 'undefined') return;
  inked = true;
  const style = document.createElement('style');
  style.textContent = drawingStyle;
  document.head.append(style);
}

/** Shows an SVG tree. */
export function Drawing({ tree }: { readonly tree: SvgNode }) {
  ink();
  return render(tree, 0) as VNode;
}
