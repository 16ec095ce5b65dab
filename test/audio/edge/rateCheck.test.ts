import { describe, expect, it } from 'vitest';
import { RateCheck } from '../../../src/audio/edge/rateCheck.ts';
import { hertz } from '../../../src/units.ts';
import { seededRandom } from './seededRandom.ts';

/** Batches of a stream whose true rate is `trueHz`, each up to `lateMs` late, with stalls that are caught up in a burst. */
function run(
  statedHz: number,
  trueHz: number,
  totalS: number,
  lateMs: number,
  stall?: { everyS: number; forS: number },
) {
  const random = seededRandom(7);
  const check = new RateCheck(hertz(statedHz));
  const found: number[] = [];
  let lastMs = 0;
  for (let count = 2048; count < totalS * trueHz; count += 2048) {
    const dueS = count / trueHz;
    const stalled = stall && dueS % stall.everyS < stall.forS ? stall.forS - (dueS % stall.everyS) : 0;
    lastMs = Math.max(lastMs, (dueS + stalled) * 1e3 + random() * lateMs);
    const rate = check.arrived(2048, lastMs);
    if (rate !== undefined) found.push(rate);
  }
  return found;
}

describe('the true sample rate is checked against the clock', () => {
  it('finds 48 kHz delivered as 44.1 kHz, and says what it is within 1 %', () => {
    const found = run(44_100, 48_000, 6, 40);
    expect(found.length).toBeGreaterThan(0);
    expect(Math.abs((found[0] ?? 0) / 48_000 - 1)).toBeLessThan(0.01);
  });
  it('finds 44.1 kHz delivered as 48 kHz', () => {
    expect(run(48_000, 44_100, 6, 40).length).toBeGreaterThan(0);
  });
  it('finds a rate that is 3 % off within ten seconds', () => {
    expect(run(48_000, 48_000 * 1.03, 10, 40).length).toBeGreaterThan(0);
  });
  it('does not doubt a true rate whose batches come up to 60 ms late, for five minutes', () => {
    expect(run(48_000, 48_000, 300, 60)).toEqual([]);
  });
  it('does not doubt a true rate when the machine stalls for 0.4 s every two seconds', () => {
    expect(run(44_100, 44_100, 300, 20, { everyS: 2.1, forS: 0.4 })).toEqual([]);
  });
  it('does not doubt a device whose clock is 100 ppm off', () => {
    expect(run(44_100, 44_100 * 1.0001, 300, 40)).toEqual([]);
  });
  it('counts afresh after the stream stood still', () => {
    const check = new RateCheck(hertz(48_000));
    let found = 0;
    for (let pass = 0; pass < 20; pass++)
      for (let i = 0; i < 50; i++) if (check.arrived(2048, pass * 20_000 + (i * 2048) / 48) !== undefined) found++;
    expect(found).toBe(0);
  });
  it('refuses a stated rate of zero', () => {
    expect(() => new RateCheck(hertz(0))).toThrow(RangeError);
  });
});
