import { afterEach, describe, expect, it } from 'vitest';
import { localDay, localMinute } from '../../../src/ui/text/localTime.ts';

const before = process.env.TZ;
afterEach(() => {
  process.env.TZ = before;
});

describe('a day and a time', () => {
  it.each([
    ['UTC', '2026-03-01 00:30'],
    // Half past midnight in Greenwich is the evening before in New York (UTC − 5 h) and morning in Tokyo (UTC + 9 h).
    ['America/New_York', '2026-02-28 19:30'],
    ['Asia/Tokyo', '2026-03-01 09:30'],
  ])('are those of the place where the person is: %s', (zone, shown) => {
    process.env.TZ = zone;
    expect(localMinute('2026-03-01T00:30:00.000Z')).toBe(shown);
    expect(localDay('2026-03-01T00:30:00.000Z')).toBe(shown.slice(0, 10));
  });
});
