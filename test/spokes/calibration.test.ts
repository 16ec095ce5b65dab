import { describe, expect, it } from 'vitest';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { calibrationsUsed } from '../../src/spokes/calibrationsUsed.ts';
import { catalogueKind } from '../../src/spokes/catalogue.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { describeSpare } from '../../src/spokes/describeSpare.ts';
import { readRound } from '../../src/spokes/readRound.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import type { Calibration, Pluck, SpokeKind, Wheel } from '../../src/spokes/wheel.ts';
import { readWheelFile, writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { hertz, newtonMetresPerRadian, newtons } from '../../src/units.ts';
import { plainWheel } from './plainWheel.ts';
import { pluck } from './pluck.ts';
import { SIMULATED, simulatedRound } from './simulatedRound.ts';

const { truth } = SIMULATED;
const PLAIN = catalogueKind('plain-2.0');
const LENGTH_MM = 280;
/** Grips of the load: firmer than the wheel's own ends in `simulatedRound`. */
const GRIP = { inPlane: newtonMetresPerRadian(40), across: newtonMetresPerRadian(40) };

const DENSER = 1.02;
const STIFFER = 1.05;
/** The same kind of wire, denser and of another modulus than its catalogue says. */
const unlike: SpokeKind = {
  ...PLAIN,
  sections: PLAIN.sections.map((section) => ({
    ...section,
    layers: section.layers.map((layer) => ({
      ...layer,
      material: {
        ...layer.material,
        densityKgM3: layer.material.densityKgM3 * DENSER,
        modulusGPa: layer.material.modulusGPa * STIFFER,
      },
    })),
  })),
};

/** A loose spoke of the true kind under a load, as it would be heard. */
function spare(real: Wheel, loadN: number, statedN = loadN): Calibration {
  const description = { kindId: PLAIN.id, supportLengthMm: LENGTH_MM };
  const described = describeSpare(real, 'right', description);
  if (!described.ok) throw new RangeError(described.reason);
  const frequencies = modes(
    described.described.member,
    newtons(loadN),
    { hub: GRIP, rim: GRIP },
    'inPlane',
    { kind: 'none' },
    4,
  );
  const base = pluck(`spare-${loadN}`, 400);
  const tones = frequencies.map((f, i) => ({
    ...(base.tones[i] as Pluck['tones'][number]),
    frequencyHz: hertz(f),
    uHz: hertz(2e-4 * f),
  }));
  return {
    id: `spare-${loadN}`,
    kind: 'spare',
    loadN: statedN,
    uLoadN: 0.003 * statedN,
    method: 'load cell',
    ...description,
    pluck: {
      ...base,
      spoke: 1,
      how: { crossing: 'none', direction: 'inPlane' },
      tones,
      covarianceHz2: tones.map((tone, i) => tones.map((_, j) => (i === j ? tone.uHz ** 2 : 0))),
    },
  };
}

const prepare = rememberPrepared(prepareMember);
const wheel = plainWheel();
const real = plainWheel({ kinds: { [PLAIN.id]: unlike } });
const round = simulatedRound(real);
const read = (calibrations: readonly Calibration[]) => readRound({ ...wheel, calibrations }, round, prepare);
const plain = read([]);
const right = (one: typeof plain) => one.learned.get(`right ${PLAIN.id}`);
const left = (one: typeof plain) => one.learned.get(`left ${PLAIN.id}`);

describe('a spare spoke under known loads', () => {
  const calibrated = read([spare(real, 200), spare(real, 1000)]);

  it('lends mass and stiffness to both sides that have its kind, and both become surer', () => {
    for (const of of [left, right]) {
      const [before, after] = [of(plain), of(calibrated)];
      if (before === undefined || after === undefined) throw new RangeError('nothing was learned');
      expect(after.massFactor.u).toBeLessThan(0.95 * before.massFactor.u);
      expect(after.stiffnessFactor.u).toBeLessThan(0.6 * before.stiffnessFactor.u);
      expect(Math.abs(after.stiffnessFactor.value - STIFFER)).toBeLessThan(2 * after.stiffnessFactor.u);
      expect(Math.abs(after.massFactor.value - DENSER)).toBeLessThan(2 * after.massFactor.u);
      expect(Math.abs(after.massFactor.value - DENSER)).toBeLessThan(Math.abs(before.massFactor.value - DENSER));
    }
  });

  it('keeps its ends to itself: what the wheel’s ends are taken for hardly moves', () => {
    const rim = (one: typeof plain) => right(one)?.rimEnd;
    const [before, after] = [rim(plain), rim(calibrated)];
    expect(Math.abs((after?.value ?? 0) - (before?.value ?? 1))).toBeLessThan(2 * (before?.u ?? 0));
  });

  it('shows its own reading and the degrees of freedom', () => {
    expect([...(calibrated.calibrations ?? [])].map(([id, reading]) => [id, reading.ok])).toEqual([
      ['spare-200', true],
      ['spare-1000', true],
    ]);
    expect(right(calibrated)?.degreesOfFreedom).toBeGreaterThan(20);
    expect(right(calibrated)?.contradiction).toBe(false);
  });

  it('is called out where load and description contradict each other', () => {
    const wrong = read([spare(real, 200, 260), spare(real, 1000, 1300)]);
    expect(right(wrong)?.contradiction).toBe(true);
  });

  it('gives the same tensions after a trip through the wheel file', () => {
    const calibrations = [
      spare(real, 200),
      { ...spare(real, 1000), threadEnd: 'grip' as const, uSupportLengthMm: 0.5 },
    ];
    const back = readWheelFile(JSON.parse(writeWheelFile({ ...wheel, calibrations, rounds: [round] })));
    if (!back.ok) throw new RangeError(JSON.stringify(back.problems));
    const again = readRound(back.wheel, back.wheel.rounds[0] ?? round, prepare);
    expect(again.readings.get(1)).toEqual(calibrated.readings.get(1));
  });
});

describe('describing a spare spoke', () => {
  const kind: SpokeKind = { ...PLAIN, weighed: { massG: 7.5, uG: 0.02, lengthMm: 292 } };
  const weighed = plainWheel({ kinds: { [kind.id]: kind } });

  it('gives it the wheel’s mass per length where a spoke was weighed', () => {
    const loose = describeSpare(weighed, 'right', { kindId: kind.id, supportLengthMm: LENGTH_MM });
    const laced = describeMember(weighed, 1);
    if (!loose.ok || !laced.ok) throw new RangeError('not described');
    const [first] = loose.described.member.sections;
    expect(first?.massPerLength).toBeCloseTo(laced.described.member.sections[0]?.massPerLength ?? 0, 12);
  });

  it('ends in the side’s nipple where it hangs in one, and in bare wire in a clamp', () => {
    const by = (threadEnd: 'grip' | 'nipple') => {
      const spoke = describeSpare(wheel, 'right', { kindId: PLAIN.id, supportLengthMm: LENGTH_MM, threadEnd });
      if (!spoke.ok) throw new RangeError(spoke.reason);
      return spoke.described.member.sections;
    };
    expect(by('nipple')).toHaveLength(by('grip').length + 1);
    for (const sections of [by('nipple'), by('grip')])
      expect(sections.reduce((sum, one) => sum + one.length, 0)).toBeCloseTo(LENGTH_MM / 1000, 9);
  });

  it('refuses a length that no spoke has, naming the field', () => {
    expect(describeSpare(wheel, 'right', { kindId: PLAIN.id, supportLengthMm: 2800 })).toMatchObject({
      ok: false,
      reason: 'measuredImpossible',
      field: 'supportLengthMm',
    });
  });
});

describe('a spoke of known tension in another round', () => {
  it('teaches this round too, through the tones that settled it then', () => {
    const then = { ...round, id: 'then' };
    const known = { id: 'c', kind: 'inWheel', spoke: 3, loadN: truth[2] ?? 0, uLoadN: 10, method: 'test' } as const;
    const after = readRound(
      { ...wheel, rounds: [then], calibrations: [{ ...known, roundId: 'then' }] },
      simulatedRound(real),
      prepare,
    );
    const common = (one: typeof plain) => {
      const reading = one.readings.get(1);
      return reading?.ok ? reading.uCommonN : Number.NaN;
    };
    expect(common(after)).toBeLessThan(0.9 * common(plain));
  });
});

describe('what became of each known tension', () => {
  const load = { loadN: 1000, uLoadN: 10, method: 'gauge' };
  const heard: Calibration = { id: 'own', kind: 'inWheel', spoke: 3, ...load };
  const given = { ...wheel, calibrations: [spare(real, 1000), heard] };

  it('is its reading, and the sides that took it in: both for a loose spoke of their kind, its own for one in the wheel', () => {
    const used = calibrationsUsed(given, round, readRound(given, round, prepare));
    expect(used.map(({ calibration, groups, outcome }) => [calibration.id, [...groups].sort(), outcome.ok])).toEqual([
      ['spare-1000', [`left ${PLAIN.id}`, `right ${PLAIN.id}`], true],
      ['own', [described3()], true],
    ]);
  });
  const described3 = () => {
    const one = describeMember(wheel, 3);
    if (!one.ok) throw new RangeError(one.reason);
    return one.group;
  };

  it.each<[string, Calibration, string]>([
    [
      'a loose spoke that nobody plucked',
      { id: 'a', kind: 'spare', ...load, kindId: PLAIN.id, supportLengthMm: 280 },
      'noPluck',
    ],
    ['a loose spoke of a length that no spoke has', { ...spare(real, 1000), supportLengthMm: 5 }, 'measuredImpossible'],
    ['a loose spoke of a kind that the wheel does not know', { ...spare(real, 1000), kindId: 'other' }, 'kindUnknown'],
    ['a spoke that the wheel does not have', { ...heard, spoke: 99 }, 'noSuchSpoke'],
    ['a spoke heard at its tension in a round that is gone', { ...heard, roundId: 'gone' }, 'spokeNotHeard'],
  ])('is told with the reason where nothing was learned: %s', (_, calibration, reason) => {
    const other = { ...wheel, calibrations: [calibration] };
    const [used] = calibrationsUsed(other, round, readRound(other, round, prepare));
    expect(used).toMatchObject({ groups: [], outcome: { ok: false, reason } });
  });

  it('is the fit’s own reason where the tones of a loose spoke do not fit it', () => {
    const whole = spare(real, 1000);
    // Of this length, the same tones would mean 1.65 times its load.
    const other = { ...wheel, calibrations: [{ ...whole, supportLengthMm: 360 }] };
    const read = readRound(other, round, prepare);
    const [used] = calibrationsUsed(other, round, read);
    expect(used).toMatchObject({ groups: [], outcome: { ok: false, reason: 'tonesContradictMember' } });
    expect(right(read)?.contradiction).toBe(true);
  });
});
