import { h, type VNode } from 'preact';
import { drawingStyle } from '../../drawing/drawingStyle.ts';
import type { SvgNode } from '../../drawing/svg.ts';

const render = (node: SvgNode | string, key: number): VNode | string =>
  typeof node === 'string' ? node : h(node.name, { ...node.attributes, key }, node.children.map(render));

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
