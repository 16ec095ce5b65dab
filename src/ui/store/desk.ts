import type { AppState, LastExcerpt } from './appState.ts';
import type { Listening, Ports } from './ports.ts';

/** What every group of actions works on. */
export interface Desk {
  readonly get: () => AppState;
  readonly set: (part: Partial<AppState>) => void;
  readonly ports: Ports;
  /** Too large or too alive for the state. */
  readonly live: { listening: Listening | undefined; excerpt: LastExcerpt | undefined };
}
