import type { ExpectedAtTension } from '../contract.ts';
import { freeRatioSets } from './freeRatioSets.ts';
import { ladderSets } from './ladderSets.ts';
import { stringSet } from './stringSet.ts';
import type { ToneSet } from './toneSet.ts';

/** The described member's tones, or those of any spoke where none is described. */
export const setsFor = (expected: readonly ExpectedAtTension[] | undefined): ToneSet[] =>
  expected && expected.length > 1 ? ladderSets(expected) : freeRatioSets();

/** The same for numbering: where none is described, an instrument's string may be what is heard. */
export const numberingSetsFor = (expected: readonly ExpectedAtTension[] | undefined): ToneSet[] => {
  const sets = setsFor(expected);
  return sets.some((set) => set.guess) ? [...sets, stringSet()] : sets;
};
