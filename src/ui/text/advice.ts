/** What happened, in one sentence, and what to do next, in another. */
export interface Advice {
  readonly sentence: string;
  readonly next: string;
}
