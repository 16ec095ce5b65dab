import { fingerprint } from '../../spokes/fingerprint.ts';
import type { Gauge } from '../../spokes/gauge.ts';
import type { NewId } from '../../spokes/ownIds.ts';
import { keepBoth } from './keepBoth.ts';
import { gaugeRoundHolds } from './roundHolds.ts';

/**
 * Brings gauges together by id, with the rounds of both. One that reads otherwise here (another unit, chart or uncertainty) would turn the
 * incoming readings into other tensions: it is kept beside, under an id that its setup gives it whenever it comes, or comes back.
 *
 * @param given takes note of each gauge or round that got a new id
 * @returns the array itself where nothing comes to it
 */
export function mergeGauges(mine: readonly Gauge[], theirs: readonly Gauge[], given: NewId[]): readonly Gauge[] {
  const byId = new Map(mine.map((gauge) => [gauge.id, gauge]));
  for (const their of theirs) {
    const back = mine.find((one) => their.id === idBySetup({ ...their, id: one.id }) && readAlike(one, their));
    const item = back ? { ...their, id: back.id } : withPlace(byId, their);
    const here = byId.get(item.id);
    byId.set(item.id, here ? withRounds(here, item, given) : item);
    if (here === undefined && item.id !== their.id) given.push({ what: 'gauge', was: their.id, now: item.id });
  }
  const all = [...byId.values()];
  return all.length === mine.length && all.every((gauge, index) => gauge === mine[index]) ? mine : all;
}

/** Name and words of the one that is here; readings of both. */
function withRounds(mine: Gauge, theirs: Gauge, given: NewId[]): Gauge {
  const rounds = keepBoth(mine.rounds, theirs.rounds, gaugeRoundHolds, 'gaugeRound', given);
  return rounds === mine.rounds ? mine : { ...mine, rounds };
}

/** The gauge under the first id of its own that is free, or taken by one that reads as it does. */
function withPlace(byId: ReadonlyMap<string, Gauge>, gauge: Gauge): Gauge {
  const here = byId.get(gauge.id);
  return here === undefined || readAlike(here, gauge) ? gauge : withPlace(byId, { ...gauge, id: idBySetup(gauge) });
}

const idBySetup = (gauge: Gauge): string => `${gauge.id}-${fingerprint(setupOf(gauge))}`;

const readAlike = (one: Gauge, other: Gauge): boolean => setupOf(one) === setupOf(other);

/** All that makes a tension of what the gauge shows. */
const setupOf = ({ scale, unit, charts, uPercent }: Gauge): string =>
  JSON.stringify([
    uPercent,
    scale === 'direct'
      ? unit
      : [charts?.left, charts?.right].map(
          (chart) => chart && [chart.unit, chart.points.map(({ reading, tension }) => [reading, tension])],
        ),
  ]);
