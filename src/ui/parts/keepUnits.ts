import { type ComponentChild, type ComponentChildren, Fragment, isValidElement, options } from 'preact';

const NO_BREAK = '\u00a0';
/** As they are written on the screens; none is a word of its own. */
const UNIT = String.raw`(?:N|kgf|lbf|k?Hz|mm|m|[kmµ]?g|GPa|bar|°C|K|s|ms|dB|%|kg/m³?|N·m(?:²|/rad)?)(?![\p{L}\p{N}])`;
const WITHIN = new RegExp(String.raw`(?<=\d) (?=${UNIT})`, 'gu');
const AT_START = new RegExp(`^ (?=${UNIT})`, 'u');
const UNIT_FIRST = new RegExp(`^${UNIT}`, 'u');

/** `3-cross` is one word. */
const CROSSES = /(?<=\d)-(?=cross)/gu;
const FIRM_HYPHEN = '\u2011';

/** A sentence in which no number ends a line that its unit, or the word it makes with its hyphen, does not stand on. */
export const keepUnits = (text: string): string => text.replace(WITHIN, NO_BREAK).replace(CROSSES, FIRM_HYPHEN);

const endsInNumber = (child: ComponentChild): boolean =>
  typeof child === 'number' || (typeof child === 'string' ? /\d$/.test(child) : isValidElement(child));

/** The same for a sentence in pieces: a number and the words behind it are often two children. */
export function keepUnitsOf(children: ComponentChildren): ComponentChildren {
  if (typeof children === 'string') return keepUnits(children);
  if (!Array.isArray(children)) return children;
  return children.map((child: ComponentChild, index) => {
    if (typeof child !== 'string') return child;
    const next = children[index + 1];
    if (child === ' ' && endsInNumber(children[index - 1]) && typeof next === 'string' && UNIT_FIRST.test(next))
      return NO_BREAK;
    const kept = keepUnits(child);
    return endsInNumber(children[index - 1]) ? kept.replace(AT_START, NO_BREAK) : kept;
  });
}

/** Every text on every screen, at the one place through which all of them go. What is typed or handed out as a file stays as it is. */
export function keepUnitsEverywhere(): void {
  const before = options.vnode;
  options.vnode = (vnode) => {
    const props = vnode.props as unknown as { children?: ComponentChildren };
    const holdsText = typeof vnode.type === 'string' || vnode.type === Fragment;
    if (holdsText && vnode.type !== 'textarea') props.children = keepUnitsOf(props.children);
    before?.(vnode);
  };
}
