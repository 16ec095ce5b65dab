import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync('src/ui/styles/tokens.css', 'utf8');

/** The custom properties of the rule that begins so. */
function tokensOf(selector: string): Map<string, string> {
  const at = css.indexOf(`${selector} {`);
  if (at < 0) throw new RangeError(`${selector} is not in tokens.css`);
  const block = css.slice(at, css.indexOf('}', at));
  return new Map([...block.matchAll(/--([\w-]+):\s*([^;]+);/g)].map((m) => [m[1] ?? '', (m[2] ?? '').trim()]));
}

const light = tokensOf(':root');
const theme = (selector: string) => new Map([...light, ...tokensOf(selector)]);
const THEMES = {
  light,
  dark: theme(':root[data-theme="dark"]'),
  'dark by the system': theme(':root:not([data-theme])'),
  sunlight: theme(':root[data-theme="sunlight"]'),
};

/** @source WCAG 2.2, definitions of relative luminance and contrast ratio */
function luminance(hex: string): number {
  const channels = [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16) / 255);
  const [r = 0, g = 0, b = 0] = channels.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a: string, b: string): number {
  const [high = 0, low = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

/** Text, its ground, and the least ratio: 7 wherever Listen uses it, 3 for rules and marks' outlines. */
const PAIRS = [
  ['ink', 'paper', 7],
  ['ink', 'sheet', 7],
  ['ink', 'warn-ground', 7],
  ['ink', 'shade', 7],
  ['ink', 'band', 4.5],
  ['soft', 'paper', 7],
  ['soft', 'sheet', 7],
  ['soft', 'band', 4.5],
  ['accent', 'paper', 7],
  ['on-accent', 'accent', 7],
  ['rule', 'paper', 3],
] as const;

describe('the colours of a theme', () => {
  it('reads black on white as 21 and equal colours as 1', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#123456', '#123456')).toBe(1);
  });

  describe.each(Object.entries(THEMES))('%s', (_, tokens) => {
    it.each(PAIRS)('%s on %s reaches %d to 1', (text, ground, least) => {
      expect(contrast(tokens.get(text) ?? '', tokens.get(ground) ?? '')).toBeGreaterThanOrEqual(least);
    });
  });

  it('the system’s dark is the chosen dark', () => {
    expect(Object.fromEntries(THEMES['dark by the system'])).toEqual(Object.fromEntries(THEMES.dark));
  });

  it('sunlight knows no greys: only black and white, but for the fills of marks', () => {
    const used = [...tokensOf(':root[data-theme="sunlight"]')].filter(([, value]) => value.startsWith('#'));
    for (const [, value] of used) expect(['#000000', '#ffffff']).toContain(value);
  });
});
