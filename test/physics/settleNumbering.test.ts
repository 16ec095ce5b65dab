import { describe, expect, it } from 'vitest';
import type { MeasureRefusal, Reading } from '../../src/contract.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { settleNumbering } from '../../src/physics/settleNumbering.ts';
import { type Weighed, weighNumberings } from '../../src/physics/weighNumberings.ts';
import { newtons } from '../../src/units.ts';
import { A, described, ends } from './members.ts';
import { pluckOf, spokeOf, tonesOf, UNCROSSED } from './plucks.ts';

const TONES = modes(A, newtons(900), ends(12, 30), 'inPlane', { kind: 'none' }, 4);
const SPOKE = spokeOf(prepareMember(described(A)), [
  pluckOf(tonesOf(TONES.map((f, n): [number, number] => [f, 3 * n])), UNCROSSED),
]);
const { tones, weighed } = weighNumberings(SPOKE);
const best = weighed[0] as Weighed;
/** The best answer and another one at a fifth (or less) of its tension, with this share of the evidence. */
const withRival = (share: number, times = 5): Reading | MeasureRefusal => {
  const { fit } = best;
  const fitted = { ...fit.fitted, lnT: fit.fitted.lnT - Math.log(times) };
  const rival: Weighed = {
    ...best,
    fit: { ...fit, fitted },
    lnEvidence: best.lnEvidence + Math.log(share / (1 - share)),
  };
  return settleNumbering(SPOKE, tones, [best, rival]);
};
const read = (result: Reading | MeasureRefusal): Reading => {
  if (!result.ok) throw new RangeError(`refused: ${result.reason}`);
  return result;
};

describe('a rival far away', () => {
  const alone = read(settleNumbering(SPOKE, tones, [best]));
  it('lies outside the interval where it has less than half of what 95 % leaves', () => {
    const reading = read(withRival(0.02));
    expect(reading.tensionN).toBeCloseTo(alone.tensionN, 6);
    expect(reading.uOwnN).toBeCloseTo(alone.uOwnN, 6);
  });
  it('widens the interval where it has more, and does not draw the answer to where neither is', () => {
    const reading = read(withRival(0.05));
    expect(reading.tensionN).toBeCloseTo(alone.tensionN, 6);
    // Variance of ln T: 0.05 · (ln 5)².
    expect((reading.uOwnN / reading.tensionN) ** 2 - (alone.uOwnN / alone.tensionN) ** 2).toBeCloseTo(
      0.05 * Math.log(5) ** 2,
      6,
    );
  });
  it('leaves no answer where the interval would take in a slack spoke', () => {
    // 2·√(0.06 · (ln 30)²) = 1.67 times the tension.
    const result = withRival(0.06, 30);
    expect(result.ok ? 'answered' : result.reason).toBe('numberingAmbiguous');
  });
  it('leaves no answer where it has much', () => {
    const result = withRival(0.2);
    expect(result.ok ? 'answered' : result.reason).toBe('numberingAmbiguous');
  });
});

describe('sounds that the ear doubted', () => {
  const flagged = (flags: readonly (readonly string[])[]): Reading => {
    const [pluck] = SPOKE.plucks;
    if (pluck === undefined) throw new RangeError('no pluck');
    const plucks = flags.map((own) => ({ ...pluck, flags: own as typeof pluck.flags }));
    const spoke = { ...SPOKE, plucks };
    const heard = weighNumberings(spoke);
    return read(settleNumbering(spoke, heard.tones, heard.weighed));
  };
  it('are marked and widen the interval where all of a spoke are', () => {
    const sure = flagged([[], []]);
    const doubted = flagged([['perhapsNoSpoke'], ['perhapsNoSpoke']]);
    expect(sure.doubted).toBeUndefined();
    expect(doubted.doubted).toBe(true);
    expect(doubted.uOwnN).toBeGreaterThan(sure.uOwnN);
  });
  it('count no more where one of them is sure', () => {
    expect(flagged([['perhapsNoSpoke'], []]).doubted).toBeUndefined();
  });
});
