import { describe, expect, it } from 'vitest';
import type { SpokeMark } from '../../../src/drawing/stateMark.ts';
import type { EvennessWord } from '../../../src/spokes/evennessVerdict.ts';
import { headline } from '../../../src/ui/screens/judge/headline.ts';
import type { Judgement, SpokeView } from '../../../src/ui/screens/judge/judgementOf.ts';

/** Only what the sentence reads of a spoke. */
const spoke = (number: number, mark: SpokeMark, evenness?: EvennessWord) => ({
  number,
  mark,
  ...(mark === 'waiting' ? {} : { figure: { value: '900', plusMinus: '50' } }),
  ...(evenness === undefined ? {} : { evenness: { word: evenness, deviationPercent: 0, expandedPercent: 3 } }),
});
const of = (...spokes: ReturnType<typeof spoke>[]): Judgement =>
  ({
    status: 'ready',
    spokes: new Map(spokes.map((one) => [one.number, one as unknown as SpokeView])),
  }) as unknown as Judgement;

describe('the wheel in one sentence', () => {
  it('calls even only what every heard spoke was judged to be', () => {
    expect(headline(of(spoke(1, 'within', 'even'), spoke(2, 'within', 'even')))).toBe(
      'All within the limits and even.',
    );
    expect(headline(of(spoke(1, 'within', 'even'), spoke(2, 'within', 'cannotBeCleared')))).toBe(
      'All within the limits; whether even is undecided for 1.',
    );
    expect(headline(of(spoke(1, 'within'), spoke(2, 'within'), spoke(3, 'waiting')))).toBe(
      'All within the limits; whether even is undecided for 2. 1 of 3 without a figure.',
    );
  });
});
