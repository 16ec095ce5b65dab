import { describe, expect, it } from 'vitest';
import type { EvennessWord } from '../../../src/spokes/evennessVerdict.ts';
import type { LimitWord } from '../../../src/spokes/limitVerdict.ts';
import { headline, isTwiceOff, legendWord } from '../../../src/ui/screens/judge/headline.ts';
import type { Judgement, SpokeView } from '../../../src/ui/screens/judge/judgementOf.ts';
import { turnAdvice } from '../../../src/ui/screens/judge/turnAdvice.ts';
import { markOf } from '../../../src/ui/screens/judge/verdictWords.ts';

/** Only what the sentence reads of a spoke. */
const spoke = (number: number, limit?: LimitWord, evenness?: EvennessWord): SpokeView =>
  ({
    number,
    mark: limit === undefined && evenness === undefined ? 'waiting' : markOf(limit, evenness),
    judged: limit === undefined ? {} : { limit: { word: limit } },
    ...(limit === undefined && evenness === undefined ? {} : { figure: { value: '900', plusMinus: '50' } }),
    ...(evenness === undefined ? {} : { evenness: { word: evenness, deviationPercent: 0, expandedPercent: 3 } }),
  }) as unknown as SpokeView;
const of = (...spokes: readonly SpokeView[]): Judgement =>
  ({ status: 'ready', spokes: new Map(spokes.map((one) => [one.number, one])) }) as unknown as Judgement;

describe('the wheel in one sentence', () => {
  it('calls even only what every heard spoke was judged to be', () => {
    expect(headline(of(spoke(1, 'within', 'even'), spoke(2, 'within', 'even')))).toBe(
      'All within the limits and even.',
    );
    expect(headline(of(spoke(1, 'within', 'even'), spoke(2, 'within', 'cannotBeCleared')))).toBe(
      'All within the limits; whether even is undecided for 1.',
    );
    expect(headline(of(spoke(1, 'within'), spoke(2, 'within'), spoke(3)))).toBe(
      '2 within the limits; whether even is undecided for 2. 1 of 3 without a figure.',
    );
    expect(headline(of(spoke(1, 'within', 'even'), spoke(2)))).toBe(
      '1 within the limits and even. 1 of 2 without a figure.',
    );
  });

  it('counts each word as often as the table has it: a spoke over the limit and tight is in both counts', () => {
    const wheel = [
      spoke(1, 'over', 'tight'),
      spoke(2, 'within', 'tight'),
      spoke(3, 'within', 'slack'),
      spoke(4, 'probablyOver', 'even'),
      spoke(5, 'within', 'even'),
    ];
    expect(headline(of(...wheel))).toBe(
      '1 over the limit, 1 probably over the limit. 2 tight, 1 slack against their side.',
    );
    expect(wheel.filter(isTwiceOff).map(({ number }) => number)).toEqual([1]);
  });

  it('says evenness undecided, not cannot be cleared, where no limit is in question', () => {
    const relative = spoke(1, undefined, 'cannotBeCleared');
    expect(headline(of(relative, spoke(2, undefined, 'even')))).toBe(
      'Nothing stands out; whether even is undecided for 1.',
    );
    expect(legendWord('notCleared', [relative])).toBe('evenness undecided');
    expect(legendWord('notCleared', [relative, spoke(2, 'cannotBeCleared', 'even')])).toBe('cannot be cleared');
  });

  it('does not call without a figure what is still being measured', () => {
    const settled = { ...spoke(2), heard: 'settled' } as SpokeView;
    const wheel = of(spoke(1, 'within', 'tight'), settled, spoke(3));
    expect(headline({ ...wheel, status: 'working' })).toBe(
      '1 tight against its side. 1 of 3 without a figure. 1 of 3 still being measured …',
    );
    expect(headline(wheel)).toBe('1 tight against its side. 2 of 3 without a figure.');
  });

  it('speaks of one side where one spoke is off it, and of no limit where none is given', () => {
    expect(headline(of(spoke(1, 'noLimit', 'probablySlack'), spoke(2, 'noLimit', 'even')))).toBe(
      '1 probably slack against its side.',
    );
  });
});

describe('what to turn', () => {
  it('begins with what is over the limit, and names a spoke where it weighs most', () => {
    const wheel = of(spoke(1, 'over', 'tight'), spoke(2, 'within', 'tight'), spoke(3, 'within', 'slack'));
    expect(turnAdvice(wheel).map(({ what }) => what)).toEqual([
      'Over the limit: 1.',
      'Off the mean of their side, tight: 2 (and 1, above); slack: 3.',
    ]);
  });

  it('is nothing where only probably something is off its side', () => {
    expect(turnAdvice(of(spoke(1, 'within', 'probablyTight'), spoke(2, 'within', 'even')))).toEqual([]);
  });
});
