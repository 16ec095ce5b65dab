import type { SpokeMark } from '../../drawing/stateMark.ts';

/** One spoke as the screens tell it: figure, interval and unit as shown, verdict as sign and word. */
export interface JudgedSpoke {
  readonly number: number;
  readonly side: 'left' | 'right';
  readonly mark: SpokeMark;
  /** `within`, `over the limit` … */
  readonly word: string;
  readonly figure?: { readonly value: string; readonly plusMinus: string; readonly unit: string };
  /** Why it has no figure, and what to do. */
  readonly whyNot?: { readonly sentence: string; readonly next: string };
}
