import { describe, expect, it } from 'vitest';
import { element } from '../../src/drawing/svg.ts';
import { toMarkup } from '../../src/drawing/toMarkup.ts';

describe('svg', () => {
  it('refuses a figure that is not finite rather than drawing it somewhere', () => {
    expect(() => element('circle', { cx: Number.NaN })).toThrow(RangeError);
    expect(() => element('circle', { r: Number.POSITIVE_INFINITY })).toThrow(/circle r/);
  });

  it('leaves out absent attributes and children', () => {
    const node = element('g', { id: undefined, class: 'a' }, undefined, false, 'x');
    expect(node).toEqual({ name: 'g', attributes: { class: 'a' }, children: ['x'] });
  });

  it('escapes what a person typed into a name, in text and in attributes', () => {
    const tree = element('svg', { 'aria-label': 'a "b" <c> & d' }, element('text', {}, '</text><script>&'));
    const markup = toMarkup(tree);
    expect(markup).toContain('aria-label="a &quot;b&quot; &lt;c&gt; &amp; d"');
    expect(markup).toContain('<text>&lt;/text&gt;&lt;script&gt;&amp;</text>');
    expect(markup).not.toContain('<script>');
  });

  it('carries its style inside, so that a file is readable without the app', () => {
    expect(toMarkup(element('svg', {}))).toMatch(/^<svg><style>[\s\S]*\.drawing/);
  });

  it('leans on no page: every colour in a file is its own, for viewers without variables', () => {
    const markup = toMarkup(element('svg', {}));
    expect(markup).not.toContain('var(');
    expect(markup).toContain('.drawing .paper{fill:#f6f3ea}');
    expect(markup).toContain('.drawing .m-high{fill:#D55E00}');
  });
});
