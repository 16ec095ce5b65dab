import type { TensionUnit } from '../units.ts';
import type { SpreadDefinition } from './spreadDefinitions.ts';
import type { Side } from './wheel.ts';

/** Somebody else's table of tensions, as it stands on the sheet. */
export interface Sheet {
  readonly left: readonly number[];
  readonly right: readonly number[];
  /** Decimals to which the table is written. */
  readonly decimals: number;
  readonly unit?: TensionUnit;
  /** Spokes' numbers that stand more than once on a side. */
  readonly repeated?: readonly RepeatedPlace[];
  /** Tones of each spoke, Hz, where the sheet gives any. */
  readonly tonesHz?: { readonly left: readonly (readonly number[])[]; readonly right: readonly (readonly number[])[] };
  readonly claims: readonly SheetClaim[];
  readonly limits?: SheetLimits;
  /** What else the author states. */
  readonly states: readonly SheetStatement[];
}

export interface SheetLimits {
  readonly minimum?: number;
  readonly maximum?: number;
  /** As written beside them; absent: the table's. */
  readonly unit?: TensionUnit;
}

export interface RepeatedPlace {
  readonly side: Side;
  readonly place: number;
}

export interface SheetClaim {
  readonly of: Side | 'wheel';
  readonly what: 'mean' | 'spread';
  readonly value: number;
  /** Decimals to which the claim is written. */
  readonly decimals: number;
  /** In percent of the mean; otherwise in its own unit. */
  readonly percent: boolean;
  /** As written beside it; absent: the table's. */
  readonly unit?: TensionUnit;
}

export type SheetStatement =
  | 'unit'
  | 'limit'
  | 'limitSource'
  | 'method'
  | 'freeLength'
  | 'mass'
  | 'lacing'
  | 'tyre'
  | 'temperature'
  | 'repeatability'
  | 'uncertainty';

/** What every sheet needs for another to judge it. */
export const NEEDED_STATEMENTS: readonly SheetStatement[] = [
  'unit',
  'limit',
  'limitSource',
  'method',
  'freeLength',
  'mass',
  'lacing',
  'tyre',
  'temperature',
  'repeatability',
  'uncertainty',
];

/** Rows beyond the stated limits, were the table in that unit; of each plausible one, where there are several. */
export type BeyondByUnit = readonly (readonly [TensionUnit, number])[];

/** What does not add up (`fault`), or deserves a word (`note`). */
export type SheetFinding =
  | {
      readonly severity: 'fault';
      readonly kind: 'unitMissing';
      readonly plausible: readonly TensionUnit[];
      readonly beyond?: BeyondByUnit;
    }
  | {
      readonly severity: 'fault';
      readonly kind: 'unitImplausible';
      readonly stated: TensionUnit;
      readonly plausible: readonly TensionUnit[];
      readonly beyond?: BeyondByUnit;
    }
  | {
      readonly severity: 'fault';
      readonly kind: 'meanDoesNotFollow';
      readonly claim: SheetClaim;
      readonly computed: number;
      /** What would explain it. */
      readonly explains?: 'median' | 'otherSide' | 'bothSides' | 'leftSide' | 'rightSide';
    }
  | { readonly severity: 'note'; readonly kind: 'meanFollows'; readonly claim: SheetClaim }
  | {
      readonly severity: 'fault';
      readonly kind: 'spreadDoesNotFollow';
      readonly claim: SheetClaim;
      readonly nearest: { readonly definition: SpreadDefinition; readonly value: number };
    }
  | {
      readonly severity: 'note';
      readonly kind: 'spreadFollows';
      readonly claim: SheetClaim;
      readonly definitions: readonly SpreadDefinition[];
    }
  | {
      readonly severity: 'fault';
      readonly kind: 'ratioContradicts';
      readonly measured: number;
      readonly expected: number;
      readonly expanded: number;
    }
  | {
      readonly severity: 'note';
      readonly kind: 'ratioFits';
      readonly measured: number;
      readonly expected: number;
      readonly expanded: number;
    }
  | {
      readonly severity: 'note';
      readonly kind: 'beyondLimit';
      readonly side: Side;
      readonly index: number;
      readonly tensionN: number;
    }
  | { readonly severity: 'note'; readonly kind: 'unusualLimit'; readonly maximumN: number }
  /** No built wheel's tighter side stays below such a maximum, or makers state none so high, but in another unit the figure is usual. */
  | {
      readonly severity: 'fault';
      readonly kind: 'limitImplausible';
      readonly maximum: number;
      readonly stated: TensionUnit;
      readonly plausible: readonly TensionUnit[];
    }
  | ({ readonly severity: 'fault'; readonly kind: 'placeRepeated' } & RepeatedPlace)
  /** More spokes than the described wheel has do not add up; fewer deserve a word. */
  | {
      readonly severity: 'fault' | 'note';
      readonly kind: 'countDiffers';
      readonly side: Side;
      readonly count: number;
      readonly described: number;
    }
  | {
      readonly severity: 'fault';
      readonly kind: 'tonesContradict';
      readonly side: Side;
      readonly index: number;
      readonly sheetN: number;
      readonly memberN: number;
      readonly expandedN: number;
      /** The sheet's figure is what the plain string formula gives. */
      readonly stringExplains: boolean;
      /** Where the others share a ratio of sheet over tones: by how much this one's leaves it. */
      readonly fromOthersPercent?: number;
    }
  /** Spokes of one description are off by one ratio: one cause, not one a spoke. */
  | {
      readonly severity: 'fault';
      readonly kind: 'tonesContradictTogether';
      readonly side: Side;
      /** That share the ratio, of so many whose tones gave a tension. */
      readonly rows: number;
      readonly of: number;
      /** Sheet over tones, less 1. */
      readonly percent: number;
      readonly expandedPercent: number;
      readonly stringExplains: boolean;
      /** Of a typical one of them, as described, and what either would have to be alone. */
      readonly rings: RingingPart;
      readonly wanted: Pick<RingingPart, 'lengthMm' | 'massGramsPerMetre'>;
    }
  /** Spokes of one description fit their tones; how sharply that is known. */
  | {
      readonly severity: 'note';
      readonly kind: 'tonesFitTogether';
      readonly side: Side;
      readonly rows: number;
      /** Sheet over tones, less 1, and how far it may leave zero by what all of them share. */
      readonly percent: number;
      readonly expandedPercent: number;
      /** So much of the free length too short or too long would hide in it; only where each spoke has one tone. */
      readonly unseenMm?: number;
    };

/** The part of a spoke that rings. */
export interface RingingPart {
  readonly from: 'crossing' | 'hub';
  readonly lengthMm: number;
  readonly massGramsPerMetre: number;
}
