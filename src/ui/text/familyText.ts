import type { Family } from '../../contract.ts';

/** What rings in a mode of each family, in a mechanic's words. */
export const FAMILY_TEXT: Readonly<Record<Family, string>> = {
  segment: 'the part between crossing and rim',
  hub: 'the part between hub and crossing',
  pair: 'the crossed pair',
  whole: 'the whole spoke',
};
