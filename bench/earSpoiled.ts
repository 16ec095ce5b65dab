/** The first tone of spoiled plucks, row by row of what spoils them, with the member described and without. */

import type { ExpectedAtTension } from '../src/contract.ts';
import { drawSpoke } from '../test/signals/catalogue.ts';
import { seededRandom } from '../test/signals/random.ts';
import { STRESS_KINDS, type StressKind, spoiledPluck } from '../test/signals/stressSet.ts';
import { describedLadder, type FirstTally, line, noFirsts, percent, tallyFirst } from './earTrial.ts';
import { quantile } from './tables.ts';

interface Row {
  readonly kind: StressKind;
  readonly known: FirstTally;
  readonly unknown: FirstTally;
}

/** Prints the rows. All rows share their spokes, as those of `firstTones` do. */
export function spoiledPlucks(seed: string, n: number): void {
  const rows: Row[] = STRESS_KINDS.map((kind) => ({ kind, known: noFirsts(), unknown: noFirsts() }));
  for (let i = 0; i < n; i++) {
    const random = seededRandom(`spoiled|${seed}`).fork(i);
    const drawn = drawSpoke(random.fork('spoke'));
    const ladder: ExpectedAtTension[] = describedLadder(drawn.spoke, `spoiled${seed}${i}`);
    for (const { kind, known, unknown } of rows) {
      const pluck = spoiledPluck(kind, random.fork(kind), drawn, { style: 'full', snrDb: 25 });
      tallyFirst(known, pluck, ladder);
      tallyFirst(unknown, pluck);
    }
  }
  console.log('\nspoiled plucks, 25 dB, two planes');
  line('', 'member', 'answered', 'gross', 'marked', 'implied', 'median ct');
  for (const { kind, known, unknown } of rows) {
    print(kind, 'known', known, n);
    print(kind, 'unknown', unknown, n);
  }
}

const print = (kind: StressKind, member: string, tally: FirstTally, n: number): void =>
  line(
    `  ${kind}`,
    member,
    percent(tally.answered, n),
    percent(tally.gross, n),
    `${tally.marked}/${tally.gross}`,
    tally.impliedWithin,
    quantile(tally.offCents, 0.5).toFixed(2),
  );
