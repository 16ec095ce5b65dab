import { describe, expect, it } from 'vitest';
import { catalogueKind } from '../../../src/spokes/catalogue.ts';
import { narrowText } from '../../../src/ui/text/uncertainInputText.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';

describe('what would narrow the ± from the mass', () => {
  const kind = catalogueKind('2.0-1.5');

  it('is a scale, where no spoke was weighed', () => {
    expect(narrowText('mass', plainWheel({}, {}, kind))).toMatch(/^Weigh a loose spoke/);
  });

  it('is a known tension, where the spokes of both sides were', () => {
    const weighed = { ...kind, weighed: { massG: 5.3, uG: 0.05, lengthMm: 292 } };
    expect(narrowText('mass', plainWheel({}, {}, weighed))).toMatch(/“Known tensions”/);
    expect(narrowText('length', plainWheel({}, {}, weighed))).toMatch(/ruler/);
  });
});
