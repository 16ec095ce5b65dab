import type { Gauge } from '../../spokes/gauge.ts';
import type { Calibration, Round, Wheel } from '../../spokes/wheel.ts';
import type { ImportPreview } from './appState.ts';

/**
 * Brings wheels together by id: what is new is added, of a wheel that is here the later description stands, rounds and
 * calibrations and gauges of both are kept. Nothing is ever deleted; a round that both have stands with more plucks.
 */
export function mergeWheels(
  here: readonly Wheel[],
  incoming: readonly Wheel[],
): { readonly list: readonly Wheel[]; readonly preview: Omit<ImportPreview, 'fileName'> } {
  const byId = new Map(here.map((wheel) => [wheel.id, wheel]));
  const added: Wheel[] = [];
  const merged: { wheel: Wheel; roundsAdded: number }[] = [];
  const unchanged: Wheel[] = [];
  for (const wheel of incoming) {
    const known = byId.get(wheel.id);
    const result = known ? mergeWheel(known, wheel) : wheel;
    byId.set(wheel.id, result);
    if (!known) added.push(result);
    else if (result === known) unchanged.push(result);
    else merged.push({ wheel: result, roundsAdded: result.rounds.length - known.rounds.length });
  }
  return { list: newestFirst([...byId.values()]), preview: { added, merged, unchanged } };
}

function mergeWheel(known: Wheel, incoming: Wheel): Wheel {
  const later = incoming.changedAt > known.changedAt ? incoming : known;
  const rounds = mergeById(known.rounds, incoming.rounds, fullerRound);
  const calibrations = mergeById<Calibration>(known.calibrations, incoming.calibrations, (mine) => mine);
  const gauges = mergeById<Gauge>(known.gauges ?? [], incoming.gauges ?? [], mergeGauge);
  const sameGauges = gauges.length === 0 || gauges === known.gauges;
  if (later === known && rounds === known.rounds && calibrations === known.calibrations && sameGauges) return known;
  return { ...later, rounds, calibrations, ...(gauges.length > 0 ? { gauges } : {}) };
}

/** Charts and figures of the one that is here; readings of both. */
function mergeGauge(mine: Gauge, theirs: Gauge): Gauge {
  const rounds = mergeById(mine.rounds, theirs.rounds, (one) => one);
  return rounds === mine.rounds ? mine : { ...mine, rounds };
}

/** Keeps the array itself where nothing comes to it. */
function mergeById<Item extends { readonly id: string }>(
  mine: readonly Item[],
  theirs: readonly Item[],
  choose: (mine: Item, theirs: Item) => Item,
): readonly Item[] {
  const byId = new Map(mine.map((item) => [item.id, item]));
  for (const item of theirs) {
    const known = byId.get(item.id);
    byId.set(item.id, known ? choose(known, item) : item);
  }
  const all = [...byId.values()];
  return all.length === mine.length && all.every((item, index) => item === mine[index]) ? mine : all;
}

const fullerRound = (mine: Round, theirs: Round): Round => (theirs.plucks.length > mine.plucks.length ? theirs : mine);

export const newestFirst = (wheels: readonly Wheel[]): readonly Wheel[] =>
  [...wheels].sort((a, b) => b.changedAt.localeCompare(a.changedAt));
