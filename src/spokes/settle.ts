import { comparePlucks } from './plucksAgree.ts';
import type { Pluck } from './wheel.ts';

export interface Settling {
  readonly state:
    | 'open'
    | 'settled'
    /** Enough plucks agree, but the first one does not and nothing explains it: one more, before a tone is credited. */
    | 'contested';
  /** The plucks that agree, oldest first: the spoke's own. */
  readonly agreeing: readonly Pluck[];
  /** The rest: kept on file, not used. */
  readonly dissenting: readonly Pluck[];
  /** Of those, the ones that sound like the spoke before: an extra pluck there. */
  readonly likePrevious: readonly Pluck[];
}

/**
 * Whether a spoke is settled by the plucks credited to it.
 *
 * The largest set of plucks that agree with one of them counts, the newest breaking a tie. If it holds the spoke's first pluck, the wanted
 * number settles it. If it does not, the person may have gone on to the next spoke: then one more is wanted, unless the plucks before sound
 * like the spoke before, which is what an extra pluck there leaves behind.
 *
 * @param plucks Of one spoke, in the order heard; put aside and closing ones are passed over.
 * @param plucksToSettle 1 or more.
 * @param previous What settled the spoke before in the walk; empty if there is none.
 */
export function settle(plucks: readonly Pluck[], plucksToSettle: number, previous: readonly Pluck[]): Settling {
  const counted = plucks.filter((pluck) => !pluck.putAside && !pluck.closing);
  let agreeing: readonly Pluck[] = [];
  for (const centre of counted) {
    const set = counted.filter((pluck) => pluck === centre || comparePlucks(centre, pluck).agree);
    if (set.length > agreeing.length || (set.length === agreeing.length && set.at(-1) === counted.at(-1)))
      agreeing = set;
  }
  const dissenting = counted.filter((pluck) => !agreeing.includes(pluck));
  const likePrevious = dissenting.filter((pluck) => previous.some((other) => comparePlucks(other, pluck).agree));
  const [first] = counted;
  const firstExplained = first !== undefined && (agreeing.includes(first) || likePrevious.includes(first));
  const wanted = firstExplained ? plucksToSettle : plucksToSettle + 1;
  const state =
    agreeing.length >= wanted && agreeing.length > 0
      ? 'settled'
      : agreeing.length >= plucksToSettle && !firstExplained && counted.length > 0
        ? 'contested'
        : 'open';
  return { state, agreeing, dissenting, likePrevious };
}
