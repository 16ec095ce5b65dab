import type { ExpectedAtTension, How } from '../../contract.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import type { MeasuredWheel } from '../store/ports.ts';

/** To the measuring worker; the answer carries the same number. */
export type MeasureRequest = { readonly id: number } & (
  | { readonly kind: 'round'; readonly wheel: Wheel; readonly round: Round }
  | { readonly kind: 'expected'; readonly wheel: Wheel; readonly spoke: number; readonly how: How }
);

export type MeasureAnswer = { readonly id: number } & (
  | { readonly kind: 'round'; readonly measured: MeasuredWheel }
  | { readonly kind: 'expected'; readonly expected: readonly ExpectedAtTension[] | undefined }
  | { readonly kind: 'failed'; readonly message: string }
);
