/** What a sound source or the hearing worker has to say about the capture itself; sentences are made by the screens' room. */
export type CaptureNews =
  | { readonly kind: 'problem'; readonly problem: CaptureFault; readonly detail?: string }
  | { readonly kind: 'mended'; readonly problem: CaptureFault }
  /** The source came to its end by itself: a file, a demo. */
  | { readonly kind: 'ended' }
  /** Back from the background with a frozen device: open everything anew. */
  | { readonly kind: 'rebuild' };

export type CaptureFault =
  | 'microphoneRefused'
  | 'microphoneAbsent'
  | 'microphoneBusy'
  | 'microphoneUnsupported'
  | 'microphoneEnded'
  | 'microphoneMuted'
  | 'microphoneSilent'
  | 'microphoneBluetooth'
  | 'rateTooLow'
  | 'rateUntrue'
  | 'soundProcessed'
  | 'soundInterrupted'
  | 'soundDidNotStart'
  | 'samplesLost'
  | 'earFailed'
  | 'fileUnreadable';
