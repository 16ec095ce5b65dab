import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { USAGE } from '../../src/desk/readArguments.ts';
import { readCues } from '../../src/desk/readCues.ts';
import type { SpokeVerdict } from '../../src/desk/spokeVerdict.ts';
import type { EvennessWord } from '../../src/spokes/evennessVerdict.ts';
import type { LimitWord } from '../../src/spokes/limitVerdict.ts';

const PAGE = readFileSync(new URL('../../docs/recordings.md', import.meta.url), 'utf8');
const coded = (word: string): string => `\`${word}\``;

/** Every member of a union, checked by the compiler. */
const all = <Word extends string>(words: Record<Word, true>): readonly string[] => Object.keys(words);

describe('the page on recordings', () => {
  it('names every field and every code of a row', () => {
    const fields = all<keyof SpokeVerdict>({
      spoke: true,
      side: true,
      ok: true,
      reason: true,
      detail: true,
      advice: true,
      tensionN: true,
      expandedN: true,
      uOwnN: true,
      uCommonN: true,
      deviationPercent: true,
      uDeviationPercent: true,
      verdict: true,
      evenness: true,
      outlier: true,
      doubted: true,
    });
    const limits = all<LimitWord>({
      over: true,
      probablyOver: true,
      cannotBeCleared: true,
      within: true,
      probablyUnder: true,
      under: true,
      noLimit: true,
    });
    const evenness = all<EvennessWord>({
      even: true,
      tight: true,
      slack: true,
      probablyTight: true,
      probablySlack: true,
      cannotBeCleared: true,
    });
    for (const word of [...fields, ...limits, ...evenness]) expect(PAGE).toContain(coded(word));
  });

  it('tells every way of saying whose a sound is and how it was plucked', () => {
    const ways = [...USAGE.matchAll(/^ {2}(--(?:spoke|from|cues|pause|crossing|direction))/gm)].map(
      (match) => match[1],
    );
    expect(ways).toHaveLength(6);
    for (const way of ways) expect(PAGE).toContain(`\`${way}`);
    for (const value of ['held', 'free', 'none']) expect(PAGE).toContain(`\`--crossing ${value}\``);
    for (const value of ['in-plane', 'across', 'unknown']) expect(PAGE).toContain(`\`--direction ${value}\``);
  });

  it('gives a cue list that is read as it says', () => {
    const list = /```csv\n([\s\S]*?)```/.exec(PAGE)?.[1] ?? '';
    expect(readCues(list, 32)).toEqual({
      ok: true,
      cues: [
        { timeS: 0.95, spoke: 1 },
        { timeS: 4.45, spoke: 2 },
        { timeS: 7.9, spoke: 3 },
      ],
    });
    expect(readCues('0,95;1\n4,45\t2\n7,9 3\n', 32)).toEqual(readCues(list, 32));
  });
});
