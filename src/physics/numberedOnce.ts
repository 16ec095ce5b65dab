import type { PreparedMember } from './prepareMember.ts';
import type { SpokeTones } from './spokeTones.ts';
import { KNOWN_FLOOR } from './weighAgain.ts';
import { type WeighedTones, weighNumberings } from './weighNumberings.ts';

/** Spokes of one member that are kept: several rounds of the largest wheel. */
const MOST = 300;
const kept = new WeakMap<PreparedMember, Map<string, WeighedTones>>();

/**
 * What a spoke's own tones say, worked out once as long as its member is at hand: a wheel is fitted after each settled spoke, and all the
 * others' tones are then as they were.
 */
export const numberedOnce = (spoke: SpokeTones): WeighedTones => {
  const ofMember = kept.get(spoke.prepared) ?? new Map<string, WeighedTones>();
  kept.set(spoke.prepared, ofMember);
  const key = JSON.stringify([spoke.plucks, spoke.known]);
  const known = ofMember.get(key);
  if (known !== undefined) return known;
  const [oldest] = ofMember.keys();
  if (ofMember.size >= MOST && oldest !== undefined) ofMember.delete(oldest);
  const made = weighNumberings(spoke, { knownFloor: KNOWN_FLOOR });
  ofMember.set(key, made);
  return made;
};
