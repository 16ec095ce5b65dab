import { expect, test } from 'vitest';
import { ringCurve } from '../../src/audio/ringCurve.ts';

const RATE = 48_000;

// @source definition of the tone itself: a decaying sine has its highest density at its own frequency.
test('the curve of a decaying tone is highest in the band that holds the tone', () => {
  const samples = Float32Array.from(
    { length: RATE },
    (_, i) => Math.sin((2 * Math.PI * 431 * i) / RATE) * Math.exp(-i / RATE / 0.3),
  );
  const curve = ringCurve(samples, RATE, 0);
  const top = curve.reduce((best, point) => (point.levelDb > best.levelDb ? point : best));
  // Bands are 12.5 Hz wide.
  expect(Math.abs(top.frequencyHz - 431)).toBeLessThan(12.5);
  expect(curve).toHaveLength(480);
});

test('there is no curve where next to nothing follows the onset', () => {
  expect(ringCurve(new Float32Array(1000), RATE, 990)).toEqual([]);
});
