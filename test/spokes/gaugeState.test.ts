import { describe, expect, it } from 'vitest';
import type { Gauge } from '../../src/spokes/gauge.ts';
import { gaugePairs } from '../../src/spokes/gaugePairs.ts';
import { secondReadings } from '../../src/spokes/secondReadings.ts';
import { stateShift } from '../../src/spokes/stateShift.ts';
import type { Wheel, WheelState } from '../../src/spokes/wheel.ts';
import { newtons } from '../../src/units.ts';
import { plainWheel } from './plainWheel.ts';

const SIDES = Array.from({ length: 32 }, (_, i) => (i % 2 === 0 ? ('right' as const) : ('left' as const)));
const withRim = (stiffnessClass?: 'light' | 'medium' | 'stiff'): Wheel => {
  const wheel = plainWheel();
  if (wheel.layout.kind !== 'laced') throw new Error('layout');
  const rim = { ...wheel.layout.rim, material: 'aluminium' as const };
  return { ...wheel, layout: { ...wheel.layout, rim: stiffnessClass ? { ...rim, stiffnessClass } : rim } };
};
const gauge = (states: readonly WheelState[], values: readonly number[] = [1000]): Gauge => ({
  id: 'g',
  name: 'Gauge',
  scale: 'direct',
  unit: 'N',
  uPercent: 3,
  rounds: states.map((state, i) => ({
    id: `r${i}`,
    at: `2026-01-0${i + 1}T00:00:00.000Z`,
    state,
    readings: [1, 3, 5].map((spoke) => ({ spoke, values })),
  })),
});
const OFF: WheelState = { tyre: 'off' };

describe('a gauge put on the wheel in another state than it was heard in', () => {
  it('is corrected by the tyre where a rim stiffness class is given, and is surer of nothing for it', () => {
    const beside = { wheel: withRim('medium'), state: OFF };
    const plain = secondReadings(gauge([OFF]), SIDES, beside);
    const corrected = secondReadings(gauge([{ tyre: 'on', pressureBar: 6 }]), SIDES, beside);
    expect(plain.otherStates).toEqual([]);
    const [one, other] = [plain.readings.get(1), corrected.readings.get(1)];
    // common practice: an inflated tyre takes 5 to 15 % off, uniform between: 1000 N with it are 1000/0.9 N without, u = 1000/0.81 · 0.1/√12.
    expect(other?.meanN).toBeCloseTo(1000 / 0.9, 0);
    const uShift = ((1000 / 0.81) * 0.1) / Math.sqrt(12);
    expect(other?.uN).toBeCloseTo(Math.hypot(0.03 * (1000 / 0.9), uShift), -1);
    expect((other?.uN ?? 0) > (one?.uN ?? 0)).toBe(true);
    expect(corrected.otherStates[0]?.corrected?.meanShiftN).toBeCloseTo(111, 0);
  });

  it('is not surer of the correction for having read oftener', () => {
    const beside = { wheel: withRim('medium'), state: OFF };
    const on: WheelState = { tyre: 'on', pressureBar: 6 };
    const once = secondReadings(gauge([on]), SIDES, beside).readings.get(3);
    const often = secondReadings(gauge([on, on], [1000, 1000, 1000]), SIDES, beside).readings.get(3);
    expect(often?.valuesN).toHaveLength(6);
    expect(often?.uN).toBeCloseTo(once?.uN ?? 0, 6);
  });

  it('without a rim stiffness class is not compared, and the reason is told', () => {
    const { readings, rounds, otherStates } = secondReadings(gauge([{ tyre: 'on' }, OFF]), SIDES, {
      wheel: withRim(),
      state: OFF,
    });
    expect(otherStates).toEqual([{ at: '2026-01-01T00:00:00.000Z', state: { tyre: 'on' }, reason: 'rimClassMissing' }]);
    expect(readings.get(1)?.valuesN).toEqual([1000]);
    expect(rounds).toHaveLength(1);
  });

  it('by temperature goes the way that rim and spoke expand', () => {
    // An aluminium rim grows more than steel spokes: warmer is tighter, so readings in the cold are raised to the warm round's state.
    const beside = { wheel: withRim('stiff'), state: { tyre: 'off', temperatureC: 30 } as const };
    const { readings, otherStates } = secondReadings(gauge([{ tyre: 'off', temperatureC: 10 }]), SIDES, beside);
    const shift = (readings.get(1)?.meanN ?? 0) - 1000;
    // Bound with a rigid rim, 2.0 mm steel and 20 K: E·A·Δα·ΔT = 193e9 · 3.1416e-6 · 6.5e-6 · 20 = 79 N.
    expect(shift).toBeGreaterThan(40);
    expect(shift).toBeLessThan(85);
    expect(otherStates[0]?.corrected?.uN).toBeGreaterThan(0);
  });

  it.each([
    ['two that nobody stated are taken for one', { tyre: 'unknown' }, { tyre: 'unknown' }, 'same'],
    ['one stated and one not are two', { tyre: 'unknown' }, OFF, 'none'],
    ['a temperature said of one only hides no difference', { tyre: 'off', temperatureC: 22 }, OFF, 'same'],
    ['three kelvin are one room', { tyre: 'off', temperatureC: 22 }, { tyre: 'off', temperatureC: 20 }, 'same'],
    ['another pressure is another state', { tyre: 'on', pressureBar: 3 }, { tyre: 'on', pressureBar: 6 }, 'none'],
    ['a pressure said of one only is another state', { tyre: 'on' }, { tyre: 'on', pressureBar: 6 }, 'none'],
  ] as const)('%s', (_, from, to, kind) => {
    expect(stateShift(withRim('medium'), from, to).kind).toBe(kind);
  });

  it('shifts there and back to where it was', () => {
    const there = stateShift(withRim('medium'), { tyre: 'on', pressureBar: 6 }, OFF);
    const back = stateShift(withRim('medium'), OFF, { tyre: 'on', pressureBar: 6 });
    if (there.kind !== 'corrected' || back.kind !== 'corrected') throw new Error('no correction');
    const up = 900 + there.of(1, newtons(900)).shift;
    expect(up + back.of(1, newtons(up)).shift).toBeCloseTo(900, 6);
  });
});

describe('pairs for calibrating a gauge', () => {
  const reading = (tensionN: number) => ({
    ok: true as const,
    tensionN: newtons(tensionN),
    uOwnN: newtons(5),
    uCommonN: newtons(20),
    assignment: [],
    agreement: 1,
    contributions: [],
  });
  const ear = new Map([1, 3, 5].map((spoke) => [spoke, reading(1000 + spoke)]));

  it('leave out a spoke whose tension by ear was pulled by a known one', () => {
    const known = { id: 'k', kind: 'inWheel', spoke: 3, loadN: 1000, uLoadN: 20, method: 'load cell' } as const;
    const [right] = gaugePairs(secondReadings(gauge([OFF]), SIDES), ear, SIDES, [known]);
    expect(right?.pairs.map(({ spoke }) => spoke)).toEqual([1, 5]);
    expect(right?.excluded).toEqual([3]);
    expect(right?.shows).toBe('tension');
  });

  it('of a gauge without a chart are its marks, those of another state left out', () => {
    const marks: Gauge = { ...gauge([OFF, { tyre: 'on' }], [22.5]), scale: 'chart' };
    const second = secondReadings(marks, SIDES, { wheel: withRim('medium'), state: OFF });
    expect(second.withoutChart).toEqual(['right']);
    const [right] = gaugePairs(second, ear, SIDES, []);
    expect(right?.shows).toBe('marks');
    expect(right?.pairs.map(({ shown }) => shown)).toEqual([[22.5], [22.5], [22.5]]);
  });
});
