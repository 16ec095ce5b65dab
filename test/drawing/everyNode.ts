import type { SvgNode } from '../../src/drawing/svg.ts';

/** Every node of a tree, the outermost first. */
export function everyNode(tree: SvgNode): readonly SvgNode[] {
  return [tree, ...tree.children.flatMap((child) => (typeof child === 'string' ? [] : everyNode(child)))];
}

/** All lettering of a tree, in drawing order. */
export const lettering = (tree: SvgNode): readonly string[] =>
  everyNode(tree)
    .filter((node) => node.name === 'text')
    .map((node) => node.children.filter((child) => typeof child === 'string').join(''));

export const withClass = (tree: SvgNode, name: string): readonly SvgNode[] =>
  everyNode(tree).filter((node) =>
    String(node.attributes.class ?? '')
      .split(' ')
      .includes(name),
  );
