import type { WeighedAside } from '../../../spokes/weighedAside.ts';

/** What a scale says of a kind beside its dimensions, and what may be wrong. */
export function weighingText({ section, percent, questionable }: WeighedAside): string {
  const by = `${Math.abs(percent).toFixed(1)} % ${percent < 0 ? 'lighter' : 'heavier'}`;
  const fact = `Weighed, the ${section} is ${by} than its dimensions say.`;
  return questionable
    ? `${fact} That is more than wire varies: measure its diameter again, and how far its ends reach.`
    : fact;
}
