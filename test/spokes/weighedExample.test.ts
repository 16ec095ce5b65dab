import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { catalogueKind } from '../../src/spokes/catalogue.ts';
import { kindSections } from '../../src/spokes/kindSections.ts';
import type { SpokeKind } from '../../src/spokes/wheel.ts';
import { millimetres } from '../../src/units.ts';

const METHOD = readFileSync(new URL('../../docs/method.md', import.meta.url), 'utf8');
const [hub, middle, rim] = catalogueKind('2.0-1.5').sections;
if (!hub || !middle || !rim) throw new Error('no butted spoke in the catalogue');
const KIND: SpokeKind = {
  ...catalogueKind('2.0-1.5'),
  sections: [{ ...hub, lengthMm: 22 }, middle, { ...rim, lengthMm: 28 }],
  weighed: { massG: 4.65, uG: 0.02, lengthMm: 277 },
  lengths: 'loose',
};
const SEEN_OF_NIPPLE = 9;
const described = (kind: SpokeKind) => {
  const laid = kindSections(kind, 'kinds.own', millimetres(277 - SEEN_OF_NIPPLE), millimetres(SEEN_OF_NIPPLE), 'elbow');
  if (!laid.ok) throw new Error(`${laid.reason} ${laid.field} ${laid.detail}`);
  return laid;
};

describe('the weighed spoke of the published method', () => {
  const { sections, solved, massRelative } = described(KIND);
  const said = (figure: string) => expect(METHOD, figure).toContain(figure);
  it('has the masses that are worked out there', () => {
    said(`= ${((sections[0]?.massPerLength ?? 0) * 1e3).toFixed(2)} g/m`);
    said(`(4.65 − 1.464)/0.227     = ${((sections[1]?.massPerLength ?? 0) * 1e3).toFixed(2)} g/m`);
    said(`The middle is ${(100 * ((solved?.factor ?? 0) - 1)).toFixed(1)} % heavier than its name`);
    said(`its EI is taken ${(100 * ((solved?.factor ?? 0) ** 2 - 1)).toFixed(1)} % larger`);
  });
  it('is as unsure as is worked out there', () => said(`3.186 g, ${(100 * massRelative).toFixed(1)} %`));
  it('comes out as light as is said there where its end is misread', () => {
    const misread = described({ ...KIND, lengths: 'inWheel' }).sections[1]?.massPerLength ?? 0;
    said(`would come out at ${(misread * 1e3).toFixed(2)} g/m`);
    said(`${(100 * (1 - misread / (sections[1]?.massPerLength ?? 1))).toFixed(1)} % too light`);
  });
});
