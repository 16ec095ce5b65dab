import type { Side } from './wheel.ts';

/**
 * How the two sides are named on sheets. The chain runs on the right, a disc sits on the left. `common practice`
 * Longer words first: `non-drive` holds `drive`.
 */
const WORDS: readonly (readonly [Side, RegExp])[] = [
  ['left', /\bnon[\s-]*drive([\s-]*side)?\b|\bnds\b|\bnd\b/i],
  ['left', /\b(left|links|gauche|izquierd[ao]|sinistr[ao]|sx|esquerd[ao])\b([\s-]*side)?/i],
  ['left', /\b(disc|disk|rotor)\b(?!\W*(wheel|brake|hub|front|rear))([\s-]*side)?/i],
  ['right', /\b(right|rechts|droite?|derech[ao]|destr[ao]|dx|direit[ao])\b([\s-]*side)?/i],
  ['left', /(?<!\p{L})(vänster|venstre|lew[aey]|lev[áýé]|vasen)(?!\p{L})|左侧?|左側?/iu],
  ['right', /(?<!\p{L})(höger|højre|høyre|praw[aey]|prav[áýé]|oikea)(?!\p{L})|右侧?|右側?/iu],
  ['right', /\b(drive|cassette|sprocket)[\s-]*side\b|\bdrive\b|\bds\b/i],
];
/** `L`, `R3`, `12 L`, `l.`, `R-3`, `NDS3`: a side for short with a place number or without. */
const LETTER = /^(?:(\d{1,3})\s*(l|r|nds|ds)\.?|(l|r|nds|ds)[.#-]?\s*(\d{1,3})?)$/i;

/** Spanish for short, by itself: in German `der` is an article. */
const SHORT = /^(izq|der)\.?$/i;

export interface SideNamed {
  readonly side: Side;
  /** What is left of the text, the side taken out. */
  readonly rest: string;
}

/** The side that a text names, in the words of several countries; undefined if it names none, or both. */
export function sideIn(text: string): SideNamed | undefined {
  const bare = text.trim();
  const [, short] = SHORT.exec(bare) ?? [];
  if (short) return { side: /izq/i.test(short) ? 'left' : 'right', rest: '' };
  const letter = LETTER.exec(bare);
  if (letter) {
    const [, before = '', first = '', second = '', after = ''] = letter;
    return { side: /^(l|nds)$/i.test(first || second) ? 'left' : 'right', rest: before || after };
  }
  // A head such as `L (kgf)` or `R kgf`: one letter before a bracket or a unit.
  const headed = /^([lr])(?:\s*[([,:]|\s+(?:kgf?|kp|n|lbf?|lbs|hz)$)/i.exec(bare);
  if (headed) return { side: /l/i.test(headed[1] ?? '') ? 'left' : 'right', rest: bare.slice(1) };
  let rest = bare;
  const found = new Set<Side>();
  for (const [side, word] of WORDS) {
    if (!word.test(rest)) continue;
    found.add(side);
    rest = rest.replace(word, ' ');
  }
  const [side] = found;
  return side !== undefined && found.size === 1 ? { side, rest: rest.trim() } : undefined;
}
