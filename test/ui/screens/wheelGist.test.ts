import { describe, expect, it } from 'vitest';
import type { Round } from '../../../src/spokes/wheel.ts';
import { roundsGist } from '../../../src/ui/screens/wheelGist.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { simulatedRound } from '../../spokes/simulatedRound.ts';

const ENDED = { finishedAt: '2026-01-01T00:10:00Z' } as const;
const wheel = plainWheel();
const whole = simulatedRound(wheel);
const gist = (round: Round) => roundsGist({ ...wheel, rounds: [round] }).heard;
/** The plucks of the first spokes, and one of those after them up to another. */
const upTo = (settled: number, plucked: number): Round => ({
  ...whole,
  plucks: whole.plucks.filter(({ id, spoke }) => spoke <= settled || (spoke <= plucked && id.endsWith('-1'))),
});

describe('what the list of wheels says of the last round', () => {
  it('counts a spoke as heard once it is settled, and those plucked but not settled apart', () => {
    expect(gist(upTo(5, 5))).toBe('round open, 5 spokes heard');
    expect(gist(upTo(5, 6))).toBe('round open, 5 spokes heard, 1 plucked but not settled');
    expect(gist({ ...upTo(5, 7), ...ENDED })).toBe('5 spokes heard, 2 plucked but not settled');
  });

  it('says “all” only where every spoke of the wheel is', () => {
    expect(gist({ ...whole, ...ENDED })).toBe('all 32 spokes heard');
    expect(gist({ ...upTo(31, 31), ...ENDED })).toBe('31 spokes heard');
  });

  it('counts nothing where the description lays no spokes', () => {
    const layout = { kind: 'evenness', sides: [] } as const;
    expect(roundsGist({ ...wheel, layout, rounds: [whole] }).heard).toMatch(/cannot be counted/);
  });

  it('of a wheel without a round says that it was not heard', () => {
    expect(roundsGist(wheel)).toEqual({ heard: 'not heard yet' });
  });
});
