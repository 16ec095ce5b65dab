import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_PREFERENCES } from '../../../src/ui/store/preferences.ts';
import { readDrafts, readPreferences } from '../../../src/ui/store/readPreferences.ts';

describe('what was preferred comes back', () => {
  it('unchanged', () => {
    const kept = { ...DEFAULT_PREFERENCES, theme: 'sunlight', plucksToSettle: 3, speech: true, lastBackupAt: '2026' };
    expect(readPreferences(kept)).toEqual(kept);
  });
  it('with the usual value in place of one that makes no sense', () => {
    expect(readPreferences({ theme: 'pink', plucksToSettle: 0.5, sound: 'yes', person: 'A' })).toEqual({
      ...DEFAULT_PREFERENCES,
      person: 'A',
    });
  });
  it('whatever was kept, as preferences or as unfinished forms, without throwing', () => {
    fc.assert(
      fc.property(fc.anything(), (kept) => {
        expect(Object.keys(readPreferences(kept))).toEqual(expect.arrayContaining(Object.keys(DEFAULT_PREFERENCES)));
        expect(typeof readDrafts(kept)).toBe('object');
      }),
    );
  });
});
