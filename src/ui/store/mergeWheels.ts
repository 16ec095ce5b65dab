import type { Gauge } from '../../spokes/gauge.ts';
import type { NewId } from '../../spokes/ownIds.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import type { ImportPreview, WheelsNewId } from './appState.ts';
import { keepBoth } from './keepBoth.ts';
import { gaugeRoundHolds, roundHolds } from './roundHolds.ts';

/**
 * Brings wheels together by id: what is new is added, of a wheel that is here the later description stands, rounds and
 * calibrations and gauges of both are kept. Nothing is ever deleted; of a round that both have the fuller stands, and two rounds of one id
 * that hold different plucks or readings are kept both, see `keepBoth`.
 */
export function mergeWheels(
  here: readonly Wheel[],
  incoming: readonly Wheel[],
): { readonly list: readonly Wheel[]; readonly preview: Omit<ImportPreview, 'fileName'> } {
  const byId = new Map(here.map((wheel) => [wheel.id, wheel]));
  const added: Wheel[] = [];
  const merged: { wheel: Wheel; roundsAdded: number }[] = [];
  const unchanged: Wheel[] = [];
  const newIds: WheelsNewId[] = [];
  for (const wheel of incoming) {
    const known = byId.get(wheel.id);
    const result = known ? mergeWheel(known, wheel, newIds) : wheel;
    byId.set(wheel.id, result);
    if (!known) added.push(result);
    else if (result === known) unchanged.push(result);
    else merged.push({ wheel: result, roundsAdded: result.rounds.length - known.rounds.length });
  }
  return { list: newestFirst([...byId.values()]), preview: { added, merged, unchanged, newIds } };
}

function mergeWheel(known: Wheel, incoming: Wheel, newIds: WheelsNewId[]): Wheel {
  const given: NewId[] = [];
  const later = incoming.changedAt > known.changedAt ? incoming : known;
  const rounds = keepBoth(known.rounds, incoming.rounds, roundHolds, 'round', given);
  const calibrations = mergeById(known.calibrations, incoming.calibrations, (mine) => mine);
  const gauges = mergeById(known.gauges ?? [], incoming.gauges ?? [], (mine, theirs) =>
    mergeGauge(mine, theirs, given),
  );
  newIds.push(...given.map((one) => ({ ...one, wheelName: later.name })));
  const sameGauges = gauges.length === 0 || gauges === known.gauges;
  if (later === known && rounds === known.rounds && calibrations === known.calibrations && sameGauges) return known;
  return { ...later, rounds, calibrations, ...(gauges.length > 0 ? { gauges } : {}) };
}

/** Charts and figures of the one that is here; readings of both. */
function mergeGauge(mine: Gauge, theirs: Gauge, given: NewId[]): Gauge {
  const rounds = keepBoth(mine.rounds, theirs.rounds, gaugeRoundHolds, 'gaugeRound', given);
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

export const newestFirst = (wheels: readonly Wheel[]): readonly Wheel[] =>
  [...wheels].sort((a, b) => b.changedAt.localeCompare(a.changedAt));
