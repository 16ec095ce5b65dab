import { describe, expect, it } from 'vitest';
import { soundShape } from '../../src/audio/soundShape.ts';

const RATE = 48000;
const ONSET = 0.3 * RATE;
/** A sound of 0.8 s from the onset on, silence with a hiss of −90 dB before. */
const sound = (at: (s: number) => number) =>
  Float32Array.from({ length: 1.1 * RATE }, (_, i) => {
    const s = (i - ONSET) / RATE;
    return 3e-5 * Math.sin(i * i) + (s < 0 ? 0 : at(s));
  });
const sine = (hz: number, s: number) => Math.sin(2 * Math.PI * hz * s);
const ring = (s: number) => 0.3 * Math.exp(-s / 0.15) * sine(400, s);
const shapeOf = (at: (s: number) => number) => soundShape(sound(at), ONSET, RATE);

describe('the outline of a sound', () => {
  it('has a ring start at its loudest, and a swell not', () => {
    expect(shapeOf(ring).startDb).toBeGreaterThan(0);
    expect(shapeOf((s) => Math.min(1, s / 0.06) * 0.3 * sine(400, s)).startDb).toBeLessThan(-6);
  });
  it('starts at the touch, not where a gate opens on the room 20 ms before', () => {
    const gated = shapeOf((s) => (s < 0.02 ? 0.003 * Math.sin(s * s * 1e9) : ring(s - 0.02)));
    expect(gated.startDb).toBeGreaterThan(0);
  });
  it('hears the click of a release, and none where the high notes stay', () => {
    const clicked = shapeOf((s) => ring(s) + 0.1 * Math.exp(-s / 0.003) * sine(6000, s));
    const steady = shapeOf((s) => ring(s) + 0.1 * Math.exp(-s / 0.5) * sine(6000, s));
    expect(clicked.clickDb).toBeGreaterThan(20);
    expect(Math.abs(steady.clickDb ?? 99)).toBeLessThan(3);
  });
  it('says nothing of a click where the room hisses as loudly', () => {
    const samples = sound(ring).map((v, i) => v + 0.05 * Math.sin(i * i));
    expect(soundShape(samples, ONSET, RATE).clickDb).toBeUndefined();
  });
  it('tells a beep that stops from a ring that fades, and from one that a beat silences for a moment', () => {
    expect(shapeOf((s) => (s < 0.2 ? 0.3 * sine(880, s) : 0)).fallBeforeStop).toBeLessThan(2);
    expect(shapeOf(ring).fallBeforeStop).toBeUndefined();
    expect(
      shapeOf((s) => 0.2 * Math.exp(-s / 0.3) * (sine(400, s) + 0.98 * sine(404, s))).fallBeforeStop,
    ).toBeUndefined();
  });
});
