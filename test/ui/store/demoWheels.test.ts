import { describe, expect, it } from 'vitest';
import { checkWheel } from '../../../src/spokes/checkWheel.ts';
import { expandLayout } from '../../../src/spokes/expandLayout.ts';
import { readWheelFile, writeWheelFile } from '../../../src/spokes/wheelFile.ts';
import { demoOf, demoWheel } from '../../../src/ui/store/demoWheels.ts';

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe.each(['steelRear', 'compositeRear'] as const)('the demo %s', (name) => {
  const { wheel, tensionsN } = demoWheel(name);
  const laid = expandLayout(wheel.layout);

  it('is described well enough for tensions', () => {
    expect(checkWheel(wheel)).toEqual([]);
  });
  it('passes the gate of the wheel file unchanged in meaning', () => {
    const read = readWheelFile(writeWheelFile(wheel));
    expect(read.ok && read.wheel.layout).toEqual(wheel.layout);
  });
  it('has a tension for every spoke', () => {
    expect(laid.ok && laid.spokes.length).toBe(tensionsN.length);
  });
  it('stands as its geometry asks: T·sin(bracing) of the two sides is equal within 4 %', () => {
    if (!laid.ok) throw new Error('not laid');
    const pull = (side: 'left' | 'right') =>
      mean(
        laid.spokes
          .filter((spoke) => spoke.side === side)
          .map((spoke) => (tensionsN[spoke.number - 1] ?? 0) * Math.sin(spoke.bracingAngle ?? 0)),
      );
    expect(Math.abs(pull('left') / pull('right') - 1)).toBeLessThan(0.04);
  });
  it('has exactly one spoke beyond the limit of its demo', () => {
    const limit = wheel.sides?.right.limits?.maximumN ?? 0;
    expect(tensionsN.filter((tension) => tension > limit)).toHaveLength(1);
  });
  it('is found again by its id', () => {
    expect(demoOf(wheel.id)?.tensionsN).toEqual(tensionsN);
  });
});
