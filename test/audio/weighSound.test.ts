import { describe, expect, it } from 'vitest';
import { combEvidence, type Tooth } from '../../src/audio/combEvidence.ts';
import { freeRatioSets } from '../../src/audio/freeRatioSets.ts';
import { judgeSound } from '../../src/audio/judgeSound.ts';
import { ladderSets } from '../../src/audio/ladderSets.ts';
import { loudLines } from '../../src/audio/loudLines.ts';
import { memberComb } from '../../src/audio/memberComb.ts';
import { isSecondSpoke } from '../../src/audio/secondSpoke.ts';
import type { SoundShape } from '../../src/audio/soundShape.ts';
import { strangerCombs } from '../../src/audio/strangerCombs.ts';
import type { RefinedTone } from '../../src/audio/tonesOfBand.ts';
import { type Evidence, weighSound } from '../../src/audio/weighSound.ts';
import type { ExpectedAtTension } from '../../src/contract.ts';
import { hertz } from '../../src/units.ts';
import { rung } from './rung.ts';

/** A stiff wire of 0.2 m held at both ends: B = 40 / T, f₁ = 12 √T. */
const ratio = (n: number, tensionN: number) => n * Math.sqrt((1 + (40 / tensionN) * n * n) / (1 + 40 / tensionN));
const firstHz = (tensionN: number) => 12 * Math.sqrt(tensionN);
const LADDER: ExpectedAtTension[] = Array.from({ length: 20 }, (_, i) => {
  const tensionN = 30 * 1.27 ** i;
  const planes = ['inPlane', 'across'] as const;
  const tones = planes.flatMap((plane) =>
    [1, 2, 3, 4, 5].map((mode) => {
      const frequencyHz = hertz(firstHz(tensionN) * ratio(mode, tensionN) * (plane === 'across' ? 0.995 : 1));
      return { plane, family: 'segment' as const, mode, frequencyHz };
    }),
  );
  return rung(tensionN, tones, ...planes.map((p) => tones.map((t) => (t.plane === p ? 0.004 * (t.mode - 1) : 0))));
});
const SETS = ladderSets(LADDER);

const tone = (frequencyHz: number, levelDb: number, quality = 250): RefinedTone => ({
  frequencyHz,
  varianceHz2: 1e-4,
  amplitude: 0.1 * 10 ** (levelDb / 20),
  decayS: quality / (Math.PI * frequencyHz),
  snr: 1e4,
  band: 0,
  row: 0,
  glide: 0,
});
const spoke = (tensionN: number, db = 0) =>
  [1, 2, 3, 4].map((n) => tone(firstHz(tensionN) * ratio(n, tensionN), db - 4 * (n - 1)));
const PLUCK: SoundShape = {
  attackS: 0,
  startDb: 6,
  clickDb: 12,
  riseDb: 30,
  sustainDb: -15,
  swellDb: 1,
  peak: 0.2,
  flatShare: 0,
};
const evidence = (tones: readonly RefinedTone[], shape: Partial<SoundShape> = {}, other: Partial<Evidence> = {}) => ({
  shape: { ...PLUCK, ...shape },
  tones,
  misfit: 0.001,
  tonalShare: 1,
  clipped: false,
  sets: SETS,
  ...other,
});

describe('what a sound is', () => {
  it('is a spoke beyond doubt where four tones lie as the member has them', () => {
    for (const tensionN of [200, 700, 1500])
      expect(judgeSound(evidence(spoke(tensionN)))).toEqual({ reason: undefined, certain: true, perhaps: false });
  });
  it('is music where the tones are whole multiples, though each is near some mode of the member', () => {
    const string = [1, 2, 3, 4, 5, 6].map((n) => tone(330 * n, -3 * n));
    expect(judgeSound(evidence(string)).reason).toBe('music');
  });
  it('is a rotor or a knock where the tones are those of a bar or a ring', () => {
    // Free bar. Rayleigh, Theory of Sound, § 174.
    const bar = [1, 2.756, 5.404, 8.933].map((r) => tone(820 * r, -2 * r));
    expect(['rotor', 'knock']).toContain(judgeSound(evidence(bar)).reason);
  });
  it('is never certainly a spoke where one tone alone was heard', () => {
    for (const hz of [150, 400, 900]) {
      const { certain, perhaps } = judgeSound(evidence([tone(hz, 0)]));
      expect(certain).toBe(false);
      expect(perhaps).toBe(true);
    }
  });
  it('is something keyed, blown or spoken the more, the slower it starts, the less it falls and the worse damped tones fit it', () => {
    const good = weighSound(evidence(spoke(700))).total;
    for (const worse of [
      evidence(spoke(700), { startDb: -6 }),
      evidence(spoke(700), { clickDb: -6 }),
      evidence(spoke(700), { sustainDb: 0 }),
      evidence(spoke(700), { fallBeforeStop: 2 }),
      evidence(spoke(700), { riseDb: 1 }),
      evidence(spoke(700), {}, { misfit: 0.1 }),
      evidence(spoke(700), {}, { tonalShare: 0.2 }),
      evidence(spoke(700).map((t) => ({ ...t, decayS: 12 * t.decayS }))),
    ])
      expect(weighSound(worse).total).toBeLessThan(good - 1);
  });
  it('stays a spoke where clicks beside it leave a third of the power in the tones, if the tones are certainly its own', () => {
    expect(judgeSound(evidence(spoke(700), {}, { tonalShare: 0.33, misfit: 0.05 })).reason).toBeUndefined();
  });
  it('is not refused for the place of its tones where no member is described, only doubtful', () => {
    const string = [1, 2, 3, 4, 5, 6].map((n) => tone(330 * n, -3 * n));
    const { reason, certain } = judgeSound(evidence(string, {}, { sets: freeRatioSets() }));
    expect(reason).toBeUndefined();
    expect(certain).toBe(false);
  });
  it('without tones is too soft, a knock or muffled', () => {
    expect(judgeSound(evidence([], { riseDb: 3 })).reason).toBe('tooSoft');
    expect(judgeSound(evidence([], { sustainDb: -30 })).reason).toBe('knock');
    expect(judgeSound(evidence([], { sustainDb: -5 })).reason).toBe('muffled');
  });
});

describe('two spokes at once', () => {
  it('are told where two whole combs of the member sound equally loud', () => {
    const both = [...spoke(400), ...spoke(900, -3)];
    expect(judgeSound(evidence(both)).reason).toBe('twoSpokes');
  });
  it('are not told where the other is 20 dB fainter, as an answering neighbour is', () => {
    expect(judgeSound(evidence([...spoke(400), ...spoke(900, -20)])).reason).toBeUndefined();
  });
  it('are not looked for where one plane alone is described', () => {
    const lines = loudLines([...spoke(400), ...spoke(900, -3)]);
    const one = ladderSets(LADDER.map((r) => rung(r.tensionN, r.tones.slice(0, 5), [0, 0.004, 0.008, 0.012, 0.016])));
    expect(isSecondSpoke(lines, one, memberComb(lines, one))).toBe(false);
  });
});

describe('evidence of a comb', () => {
  const teeth: Tooth[] = [1, 2, 3].map((n) => ({ lnHz: Math.log(300 * n), u: 0.005, weight: 1, rank: n }));
  const lines = (...hz: number[]) => hz.map((f) => ({ lnHz: Math.log(f), levelDb: 0 }));
  it('is the sum of ln density over even, lines that are none of its teeth included', () => {
    // By hand: one of three teeth hit in its middle, foreign 0.2, range ln 80; one line off every tooth.
    const hit = Math.log(0.2 + (0.8 * Math.log(80)) / (3 * 0.005 * Math.sqrt(2 * Math.PI)));
    expect(combEvidence(lines(300, 437), teeth, 0)).toBeCloseTo(hit + Math.log(0.2), 9);
  });
  it('pays for a low tone that is missing under a loud one', () => {
    expect(combEvidence(lines(300, 900), teeth, 0.8)).toBeCloseTo(combEvidence(lines(300, 900), teeth, 0) - 0.8, 9);
  });
  it('knows a bell from a string by what else the tones could be', () => {
    const bell = [0.5, 1, 1.2, 1.5, 2, 2.5].map((r) => tone(600 * r, -2));
    const string = [1, 2, 3, 4, 5, 6].map((r) => tone(330 * r, -2));
    expect(strangerCombs(loudLines(bell)).body).toBeGreaterThan(3);
    expect(strangerCombs(loudLines(string)).string).toBeGreaterThan(3);
    expect(strangerCombs(loudLines(spoke(300))).string).toBeLessThan(0);
  });
});
