import type { EvennessWord } from '../spokes/evennessVerdict.ts';
import type { LimitWord } from '../spokes/limitVerdict.ts';
import type { Side } from '../spokes/wheel.ts';
import type { DeskReason } from './refusalText.ts';

/** The verdict of one spoke as a plain row. */
export interface SpokeVerdict {
  /** From 1, the first after the valve hole. */
  readonly spoke: number;
  readonly side: Side;
  readonly ok: boolean;
  /** Of its member or its last sound; `fewRang`: most of its sounds were no plucks; `notSettled`: its plucks do not agree. */
  readonly reason?: DeskReason;
  readonly detail?: string;
  /** What is wrong and what to do, where there is no tension. */
  readonly advice?: string;
  readonly tensionN?: number;
  readonly uOwnN?: number;
  readonly uCommonN?: number;
  /** Of the two together, expanded, about 95 %. */
  readonly expandedN?: number;
  /** From the side's mean. */
  readonly deviationPercent?: number;
  /** Standard uncertainty of it; only where no tension is known. */
  readonly uDeviationPercent?: number;
  /** Against the maker's limits. */
  readonly verdict?: LimitWord;
  /** Against the side. */
  readonly evenness?: EvennessWord;
  readonly outlier?: boolean;
  /** Its sounds may have been something else than a spoke's, and its side does not bear it out. */
  readonly doubted?: true;
}
