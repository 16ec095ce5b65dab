import { useActions, useStore } from '../store/useStore.ts';

const NONE: Readonly<Record<string, string>> = {};

export interface Draft {
  /** What was typed, exactly; `otherwise` where nothing was. */
  get(key: string, otherwise?: string): string;
  set(key: string, raw: string): void;
  /** Empties these; the rest stays for the next entry. */
  empty(...keys: readonly string[]): void;
}

/** A small form whose text outlives a change of screen and a reload. */
export function useDraft(form: string): Draft {
  const actions = useActions();
  const draft = useStore((state) => state.wheels.drafts[form]) ?? NONE;
  return {
    get: (key, otherwise = '') => draft[key] ?? otherwise,
    set: (key, raw) => actions.setDraft(form, { ...draft, [key]: raw }),
    empty: (...keys) =>
      actions.setDraft(form, Object.fromEntries(Object.entries(draft).filter(([key]) => !keys.includes(key)))),
  };
}
