import type { Refusal } from '../contract.ts';
import { type DivideReason, divide } from './divide.ts';
import type { HeardSound } from './hearRecording.ts';
import { type Cue, spokeAt } from './readCues.ts';

/** How the person said which sound is of which spoke. */
export type Crediting =
  | { readonly by: 'spoke'; readonly spoke: number }
  | { readonly by: 'cues'; readonly cues: readonly Cue[] }
  | { readonly by: 'from'; readonly from: number; readonly leastPauseS?: number }
  | { readonly by: 'round'; readonly leastPauseS?: number };

export type Credited =
  /** The spoke of each sound, from 1; undefined: of none. */
  | { readonly ok: true; readonly spokes: readonly (number | undefined)[]; readonly nextSpoke: number }
  | Refusal<DivideReason>;

/**
 * Credits every sound of a recording to a spoke.
 *
 * The pauses are looked for among the sounds that rang like a spoke; only if those do not divide clearly, among all sounds
 * (a spoke may have been muffled twice). A sound that did not ring goes with the group it lies in.
 *
 * @param spokeCount of the wheel
 */
export function creditSounds(sounds: readonly HeardSound[], crediting: Crediting, spokeCount: number): Credited {
  switch (crediting.by) {
    case 'spoke':
      return { ok: true, spokes: sounds.map(() => crediting.spoke), nextSpoke: crediting.spoke + 1 };
    case 'cues':
      return { ok: true, spokes: sounds.map(({ onsetS }) => spokeAt(onsetS, crediting.cues)), nextSpoke: 1 };
    case 'round':
    case 'from': {
      const first = crediting.by === 'from' ? crediting.from : 1;
      const options = {
        ...(crediting.by === 'round' && { spokeCount }),
        ...(crediting.leastPauseS !== undefined && { leastPauseS: crediting.leastPauseS }),
      };
      const everything = sounds.map((_, i) => i);
      const ringing = everything.filter((i) => sounds[i]?.heard.ok);
      const among = (indices: readonly number[]) => ({
        indices,
        divided: divide(
          indices.map((i) => onsetOf(sounds, i)),
          options,
        ),
      });
      const byRing = among(ringing);
      const chosen = byRing.divided.ok ? byRing : among(everything);
      if (!chosen.divided.ok) return byRing.divided.ok ? chosen.divided : byRing.divided;
      const { groups } = chosen.divided;
      const last = first + groups.length - 1;
      if (last > spokeCount) {
        return { ok: false, reason: 'groupsDoNotFit', detail: `groups reach spoke ${last} of ${spokeCount}` };
      }
      const starts = groups.map((group) => onsetOf(sounds, chosen.indices[group[0] as number] as number));
      const ends = groups.map((group) => onsetOf(sounds, chosen.indices[group.at(-1) as number] as number));
      return {
        ok: true,
        spokes: sounds.map(({ onsetS }) => groupAt(onsetS, starts, ends, first)),
        nextSpoke: last + 1,
      };
    }
  }
}

const onsetOf = (sounds: readonly HeardSound[], i: number): number => (sounds[i] as HeardSound).onsetS;

/** The group whose span holds the time, or whose border is nearer. */
function groupAt(
  onsetS: number,
  starts: readonly number[],
  ends: readonly number[],
  first: number,
): number | undefined {
  let best: { distance: number; spoke: number } | undefined;
  for (const [i, start] of starts.entries()) {
    const distance = Math.max(0, start - onsetS, onsetS - (ends[i] as number));
    if (!best || distance < best.distance) best = { distance, spoke: first + i };
  }
  return best?.spoke;
}
