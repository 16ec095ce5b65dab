import { describe, expect, test } from 'vitest';
import { readCues, spokeAt } from '../../src/desk/readCues.ts';

describe('a cue list', () => {
  test.each([
    ['comma', 'time_s,spoke\n0.5,1\n3.25,2\n'],
    ['semicolon and decimal comma', 'time;spoke\r\n0,5;1\r\n3,25;2\r\n'],
    ['tab', '0.5\t1\n3.25\t2'],
  ])('is read with %s between the columns', (_, text) => {
    expect(readCues(text, 24)).toEqual({
      ok: true,
      cues: [
        { timeS: 0.5, spoke: 1 },
        { timeS: 3.25, spoke: 2 },
      ],
    });
  });

  test('a spoke that the wheel does not have is refused by its line', () => {
    expect(readCues('0.5,1\n3,25\n', 24)).toMatchObject({ ok: false, detail: 'line 2: "3,25"' });
  });

  test('an empty list is refused', () => {
    expect(readCues('\n', 24)).toMatchObject({ ok: false, reason: 'badCues' });
  });

  test('a pluck belongs to the last cue before it, and to one that comes a moment after', () => {
    const cues = [
      { timeS: 1, spoke: 5 },
      { timeS: 4, spoke: 6 },
    ];
    expect(spokeAt(3.9, cues)).toBe(6);
    expect(spokeAt(3.5, cues)).toBe(5);
    expect(spokeAt(0.2, cues)).toBeUndefined();
  });
});
