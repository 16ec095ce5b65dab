import type { ExpectedAtTension } from '../contract.ts';
import { freeRatioSets } from './freeRatioSets.ts';
import { ladderSets } from './ladderSets.ts';
import type { ToneSet } from './toneSet.ts';

/** The described member's tones, or those of any spoke where none is described. */
export const setsFor = (expected: readonly ExpectedAtTension[] | undefined): ToneSet[] =>
  expected && expected.length > 1 ? ladderSets(expected) : freeRatioSets();
