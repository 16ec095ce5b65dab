import type { ExpectedAtTension } from '../../contract.ts';
import type { EarEvent, EarOptions } from '../earEvent.ts';
import type { CaptureNews } from './captureNews.ts';

/** To the hearing worker. */
export type HearRequest =
  | { readonly kind: 'open'; readonly options: EarOptions; readonly sound: MessagePort; readonly byTheClock: boolean }
  | { readonly kind: 'expect'; readonly expected: readonly ExpectedAtTension[] | undefined }
  /** The app sounds or shakes for so long from now; what begins meanwhile, or in the pause after it, is no pluck. */
  | { readonly kind: 'holdOff'; readonly durationS: number }
  | { readonly kind: 'close' };

/** From the hearing worker. */
export type HearAnswer =
  | { readonly kind: 'ear'; readonly event: EarEvent }
  | { readonly kind: 'capture'; readonly news: CaptureNews };
