/** The tones of simulated plucks, member described: ear and, of the first, references, row by row of style and noise. */

import type { ExpectedAtTension } from '../src/contract.ts';
import { drawSpoke } from '../test/signals/catalogue.ts';
import { type SimulatedPluck, simulatePluck } from '../test/signals/pluck.ts';
import { seededRandom } from '../test/signals/random.ts';
import { REFERENCES } from './earReferences.ts';
import {
  boundCents,
  cents,
  describedLadder,
  type FirstTally,
  GROSS_CENTS,
  line,
  nearestTone,
  noFirsts,
  percent,
  tallyFirst,
  trueFirsts,
} from './earTrial.ts';
import { noUppers, printUppers, tallyUppers, type UpperTally, uppersHead } from './earUpperTones.ts';
import { quantile } from './tables.ts';

const STYLES = ['single', 'full'] as const;
const SNRS_DB = [40, 25, 15, 10];
/** Plucks a row that the references are given too. */
const REFERRED = 100;

interface Row {
  readonly style: (typeof STYLES)[number];
  readonly snrDb: number;
  readonly firsts: FirstTally;
  /** Of the tone nearest to the first where that was there to be heard. */
  readonly errors: number[];
  readonly bounds: number[];
  readonly covered: boolean[];
  readonly uppers: UpperTally;
  readonly others: ReadonlyMap<string, Tally>;
}
interface Tally {
  none: number;
  gross: number;
  readonly errors: number[];
  count: number;
}

/** Prints the rows. All rows share their spokes: a described member takes ten times as long to prepare as a pluck to hear. */
export function firstTones(seed: string, n: number) {
  const rows = STYLES.flatMap((style) => SNRS_DB.map((snrDb) => emptyRow(style, snrDb)));
  for (let i = 0; i < n; i++) {
    const random = seededRandom(`first tones|${seed}`).fork(i);
    const drawn = drawSpoke(random.fork('spoke'));
    const ladder = describedLadder(drawn.spoke, `${seed}${i}`);
    for (const row of rows) {
      const { style, snrDb } = row;
      const pluck = simulatePluck(random.fork(`${style}${snrDb}`), drawn, { style, snrDb });
      if (i < REFERRED) refer(pluck, row.others);
      count(pluck, ladder, row);
    }
  }
  for (const style of STYLES) {
    console.log(`\nfirst tone, ${style}, member described`);
    line(
      '',
      'SNR dB',
      'answered',
      'unmarked',
      'gross',
      'marked',
      'implied',
      'median ct',
      '95 % ct',
      'bound×.674',
      '95 % covers',
    );
    for (const row of rows) if (row.style === style) print(row, n);
  }
  console.log('\nupper tones where present, member described');
  uppersHead();
  for (const row of rows) printUppers(row.style, row.snrDb, row.uppers);
}

const emptyRow = (style: Row['style'], snrDb: number): Row => ({
  style,
  snrDb,
  firsts: noFirsts(),
  errors: [],
  bounds: [],
  covered: [],
  uppers: noUppers(),
  others: new Map(Object.keys(REFERENCES).map((name) => [name, { none: 0, gross: 0, errors: [], count: 0 }])),
});

/** First tone: gross and unanswered, error against the nearer of a doublet, the bound, coverage. */
function count(pluck: SimulatedPluck, ladder: ExpectedAtTension[], row: Row) {
  const { heard, gross } = tallyFirst(row.firsts, pluck, ladder);
  tallyUppers(row.uppers, pluck, heard);
  const firsts = trueFirsts(pluck);
  const best = [...firsts].sort((a, b) => b.energySnrDb - a.energySnrDb)[0];
  if (!heard?.ok || gross || !best?.present) return;
  const near = nearestTone(
    heard,
    firsts.filter((f) => f.levelDb > best.levelDb - 26),
  );
  if (!near || near.cents > GROSS_CENTS) return;
  row.errors.push(near.cents);
  row.bounds.push(boundCents(best));
  row.covered.push(near.z < 1.96);
}

function refer(pluck: SimulatedPluck, others: ReadonlyMap<string, Tally>) {
  const onset = Math.round(pluck.onsetS * pluck.sampleRateHz);
  const firsts = trueFirsts(pluck);
  for (const [name, tally] of others) {
    tally.count++;
    const hz = REFERENCES[name]?.(pluck.samples, onset, pluck.sampleRateHz);
    if (hz === undefined) {
      tally.none++;
      continue;
    }
    const off = Math.min(...firsts.map((f) => cents(hz, f.frequencyHz)));
    if (off > GROSS_CENTS) tally.gross++;
    else tally.errors.push(off);
  }
}

function print(row: Row, n: number) {
  const { firsts } = row;
  line(
    '  ear',
    row.snrDb,
    percent(firsts.answered, n),
    percent(firsts.unmarked, n),
    percent(firsts.gross, n),
    `${firsts.marked}/${firsts.gross}`,
    firsts.impliedWithin,
    quantile(row.errors, 0.5).toFixed(3),
    quantile(row.errors, 0.95).toFixed(2),
    (0.674 * quantile(row.bounds, 0.5)).toFixed(4),
    percent(row.covered.filter(Boolean).length, row.covered.length),
  );
  for (const [name, o] of row.others)
    line(
      `  ${name}`,
      row.snrDb,
      percent(o.count - o.none, o.count),
      '',
      percent(o.gross, o.count),
      '',
      '',
      quantile(o.errors, 0.5).toFixed(3),
      quantile(o.errors, 0.95).toFixed(2),
    );
}
