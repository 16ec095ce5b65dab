import { describe, expect, it } from 'vitest';
import { createEar } from '../../src/audio/createEar.ts';
import type { ExpectedAtTension, Heard, HearRefusal } from '../../src/contract.ts';
import { hertz } from '../../src/units.ts';
import { drawSpoke } from '../signals/catalogue.ts';
import { furtherSet } from '../signals/furtherSounds.ts';
import { addNoise } from '../signals/noise.ts';
import { nonSpokeSet } from '../signals/nonSpokes.ts';
import { addPartials } from '../signals/partials.ts';
import { simulatePluck } from '../signals/pluck.ts';
import { singleSet } from '../signals/pluckSets.ts';
import { seededRandom } from '../signals/random.ts';
import { clip } from '../signals/room.ts';
import { type Spoke, spokeModes } from '../signals/spokeModes.ts';
import { stressSet } from '../signals/stressSet.ts';
import { rung } from './rung.ts';

/**
 * What a description would give: the finite elements' own tones with ends in the middle and the mass off by 1 %. They depart as ends
 * four times as stiff would move them, and each for itself by 0.5 %.
 */
function ladderOf(spoke: Spoke): ExpectedAtTension[] {
  const pieces = spoke.pieces.map((p) => ({ ...p, massKgPerM: 1.01 * p.massKgPerM }));
  return Array.from({ length: 14 }, (_, i) => {
    const tensionN = 60 * 1.33 ** i;
    const modesAt = (stiffness: number) => {
      const ends = { inPlane: stiffness, across: stiffness };
      return spokeModes({ ...spoke, pieces, tensionN, hub: ends, rim: ends }, 'inPlane', 8, 0.012).modes;
    };
    const modes = modesAt(17);
    const stiffer = modesAt(68);
    const tones = modes.map(({ plane, family, mode, frequencyHz }) => ({
      plane,
      family,
      mode,
      frequencyHz: hertz(frequencyHz),
    }));
    const ends = modes.map((m, k) => Math.log((stiffer[k] as { frequencyHz: number }).frequencyHz / m.frequencyHz));
    const alone = modes.map((_, k) => modes.map((_, n) => (n === k ? 0.005 : 0)));
    return rung(tensionN, tones, ends, ...alone);
  });
}
function listen(samples: Float32Array, expected: readonly ExpectedAtTension[]): (Heard | HearRefusal)[] {
  const rate = hertz(48000);
  const ear = createEar({ sampleRateHz: rate, settings: { sampleRateHz: rate }, expected });
  return [...ear.push(samples), ...ear.end()].flatMap((e) => (e.kind === 'heard' ? [e.heard] : []));
}
const uncertain = (h: Heard) =>
  h.flags.some((f) => f === 'numberingUncertain' || f === 'crossCheckDisagrees' || f === 'firstToneInferred');

describe('with a member described', { timeout: 60_000 }, () => {
  it('plucks of that member are answered, and most of them with certainty', () => {
    const random = seededRandom('spokes');
    let answered = 0;
    let certain = 0;
    const plucks = 24;
    for (let i = 0; i < plucks; i++) {
      const drawn = drawSpoke(random.fork(i), ['plain2.0', 'butted2.0/1.8', 'butted2.0/1.5']);
      const pluck = simulatePluck(random.fork(`p${i}`), drawn, { style: 'single', snrDb: 25 });
      const heard = listen(pluck.samples, ladderOf(drawn.spoke))[0];
      if (!heard?.ok) continue;
      answered++;
      if (!uncertain(heard)) certain++;
    }
    expect(answered).toBe(plucks);
    expect(certain).toBeGreaterThan(plucks / 2);
  });
  it('a faint tone about where a missing first would be is seldom the first for certain: a neighbour’s may lie there', () => {
    const random = seededRandom('missing first');
    let beside = 0;
    let certain = 0;
    for (let i = 0; i < 40; i++) {
      const { spoke } = drawSpoke(random.fork(i), ['plain2.0', 'butted2.0/1.8', 'butted2.0/1.5']);
      const draw = random.fork(`tones${i}`);
      const own = spokeModes(spoke, 'inPlane', 6, 0.012).modes;
      const tones = own.map(({ frequencyHz }, k) => ({
        frequencyHz: frequencyHz * (k === 0 ? Math.exp(draw.normal(0, 0.03)) : 1),
        amplitude: k === 0 ? 0.003 : 0.1,
        decayS: k === 0 ? 0.2 : 0.3 / (k + 1),
        phase: draw.uniform(0, 6),
        glides: [],
        riseS: 0,
      }));
      const samples = new Float64Array(60_000);
      addPartials(samples, 48_000, 0.4, tones);
      addNoise(samples, 48_000, 1e-9, 'white', draw);
      for (const heard of listen(new Float32Array(samples), ladderOf(spoke))) {
        const asFirst = heard.ok && heard.tones.find((_, k) => heard.hypotheses[0]?.modes[k] === 1);
        if (!asFirst || Math.abs(asFirst.frequencyHz / (tones[0]?.frequencyHz ?? 1) - 1) > 0.001) continue;
        beside++;
        if (!uncertain(heard)) certain++;
      }
    }
    expect(beside).toBeGreaterThan(0);
    expect(certain).toBeLessThan(beside / 2);
  });
  it('of 102 sounds that are no spokes at most one is taken for one with certainty, and at most a fifth at all', () => {
    const { taken, certain } = takenFor(nonSpokeSet('judge', 102));
    expect(certain.length, certain.join()).toBeLessThanOrEqual(1);
    expect(taken.length, taken.join()).toBeLessThanOrEqual(20);
  });
  it('of 40 sounds of further kinds at most one is taken for a spoke with certainty', () => {
    const { certain } = takenFor(furtherSet('judge', 40));
    expect(certain.length, certain.join()).toBeLessThanOrEqual(1);
  });
  it('of 20 plucks among the clicks of a freehub 16 or more are answered', () => {
    let answered = 0;
    for (const pluck of stressSet('freehub', 'judge', 20))
      if (
        listen(pluck.samples, ladderOf(pluck.truth.spoke)).some((h) => h.ok && Math.abs(h.onsetS - pluck.onsetS) < 0.06)
      )
        answered++;
    // 85 % are aimed at; the binomial standard deviation of 20 is 1.6.
    expect(answered).toBeGreaterThanOrEqual(16);
  });
});

describe('without a member', { timeout: 60_000 }, () => {
  it('a pluck that clips is never certain, one that does not may be', () => {
    let certain = 0;
    for (const { samples } of singleSet('clipped', 30, 40)) {
      const [clean] = listen(samples, []);
      if (clean?.ok && !uncertain(clean)) certain++;
      for (const share of [0.2, 0.4]) {
        const cut = Float64Array.from(samples);
        clip(cut, share * cut.reduce((most, v) => Math.max(most, Math.abs(v)), 0));
        for (const heard of listen(new Float32Array(cut), []))
          expect(heard.ok && !uncertain(heard), `cut at ${share}`).toBe(false);
      }
    }
    expect(certain).toBeGreaterThan(0);
  });
});

/** Kinds of the sounds of which some part was taken for a spoke, and for one with certainty. */
function takenFor(sounds: Iterable<{ readonly kind: string; readonly samples: Float32Array }>) {
  const ladders = ['a', 'b', 'c'].map((label) => ladderOf(drawSpoke(seededRandom(label)).spoke));
  const taken: string[] = [];
  const certain: string[] = [];
  let i = 0;
  for (const sound of sounds) {
    const heard = listen(sound.samples, ladders[i++ % 3] ?? []).filter((h) => h.ok);
    if (heard.length > 0) taken.push(sound.kind);
    if (heard.some((h) => !uncertain(h))) certain.push(sound.kind);
  }
  return { taken, certain };
}
