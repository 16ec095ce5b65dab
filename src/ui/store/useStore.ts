import { createContext } from 'preact';
import { useContext, useLayoutEffect, useReducer, useRef } from 'preact/hooks';
import type { StoreApi } from 'zustand/vanilla';
import type { AppActions } from './appActions.ts';
import type { AppState } from './appState.ts';

/** What the root hands down to every screen. */
export interface App {
  readonly store: StoreApi<AppState>;
  readonly actions: AppActions;
}

export const AppContext = createContext<App | undefined>(undefined);

const useApp = (): App => {
  const app = useContext(AppContext);
  if (!app) throw new RangeError('AppContext holds undefined; expected an App from createApp above every screen');
  return app;
};

export const useActions = (): AppActions => useApp().actions;

/**
 * Reads a part of the state and renders again when that part changes. The selector must return a stable value:
 * a part of the state, not a fresh object.
 */
export function useStore<Selected>(select: (state: AppState) => Selected): Selected {
  const { store } = useApp();
  const [, render] = useReducer<number, void>((count) => count + 1, 0);
  const value = select(store.getState());
  const latest = useRef({ select, value });
  latest.current = { select, value };
  useLayoutEffect(() => {
    const check = () => {
      if (!Object.is(latest.current.value, latest.current.select(store.getState()))) render();
    };
    check();
    return store.subscribe(check);
  }, [store]);
  return value;
}
