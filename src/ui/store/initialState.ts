import type { AppState } from './appState.ts';
import { DEFAULT_PREFERENCES } from './preferences.ts';

/** Before anything is loaded. */
export const INITIAL_STATE: AppState = {
  wheels: { status: 'loading', list: [], openId: undefined, drafts: {} },
  round: undefined,
  spare: undefined,
  measured: {},
  listening: {
    status: 'off',
    source: undefined,
    level: 'silent',
    early: undefined,
    settings: undefined,
    wakeLock: 'off',
    spectrumSerial: 0,
  },
  preferences: DEFAULT_PREFERENCES,
  files: {
    importPreview: undefined,
    recordings: { count: 0, bytes: 0 },
    storage: undefined,
    persisted: 'unknown',
  },
  messages: [],
  session: undefined,
  update: 'none',
  offline: 'unknown',
};
