import type { SpokeKind } from './wheel.ts';

/** Drawn wire keeps its diameter within some 0.02 mm, 2 % of the mass of 2.0 mm, and a scale adds 1 %. `common practice` */
const WIRE_VARIES_PERCENT = 3;

/** A weighed kind beside its dimensions. */
export interface WeighedAside {
  /** The section whose mass was sought. */
  readonly section: string;
  /** Weighed over computed, less one; negative is lighter. */
  readonly percent: number;
  /** Round wire, and off by more than it varies: a dimension may be wrong, or where its ends are measured. */
  readonly questionable: boolean;
}

/** @param factor mass of the section that was sought, weighed over computed */
export function weighedAside({ sections }: SpokeKind, factor: number): WeighedAside {
  const sought = sections.find((section) => section.lengthMm === 'rest') ?? sections[0];
  const percent = 100 * (factor - 1);
  const round = sought?.layers.every(({ shape }) => shape.form === 'round') ?? false;
  return {
    section: sections.length > 1 && sought ? sought.name : 'wire',
    percent,
    questionable: round && Math.abs(percent) > WIRE_VARIES_PERCENT,
  };
}
