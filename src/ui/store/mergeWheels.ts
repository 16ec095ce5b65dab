import type { NewId } from '../../spokes/ownIds.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import type { ImportPreview, WheelsNewId } from './appState.ts';
import { keepBoth } from './keepBoth.ts';
import { mergeGauges } from './mergeGauges.ts';
import { calibrationHolds, roundHolds } from './roundHolds.ts';

/**
 * Brings wheels together by id: what is new is added, of a wheel that is here the later description stands, rounds and
 * calibrations and gauges of both are kept. Nothing is ever deleted; of a round that both have the fuller stands, and two rounds of one id
 * that hold different plucks or readings are kept both, as are two known tensions, see `keepBoth`; of gauges see `mergeGauges`.
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
  const calibrations = keepBoth(known.calibrations, incoming.calibrations, calibrationHolds, 'calibration', given);
  const gauges = mergeGauges(known.gauges ?? [], incoming.gauges ?? [], given);
  newIds.push(...given.map((one) => ({ ...one, wheelName: later.name })));
  const sameGauges = gauges.length === 0 || gauges === known.gauges;
  if (later === known && rounds === known.rounds && calibrations === known.calibrations && sameGauges) return known;
  return { ...later, rounds, calibrations, ...(gauges.length > 0 ? { gauges } : {}) };
}

export const newestFirst = (wheels: readonly Wheel[]): readonly Wheel[] =>
  [...wheels].sort((a, b) => b.changedAt.localeCompare(a.changedAt));
