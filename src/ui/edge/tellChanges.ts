import type { StoreApi } from 'zustand/vanilla';
import type { Wheel } from '../../spokes/wheel.ts';
import type { AppState } from '../store/appState.ts';
import type { MessageCode } from '../store/message.ts';

type Tell = (code: MessageCode, detail?: string) => void;

/**
 * What another tab did to the wheel that lies open here is said with the figure that stood before, so that it can be typed again.
 * What it does to wheels out of sight, and what it hears, need no words. The names of the figures are loaded when they are needed.
 */
export function tellChanges(store: StoreApi<AppState>, tell: Tell) {
  const { openId } = store.getState().wheels;
  const open = (list: readonly Wheel[]) => list.find(({ id }) => id === openId);
  const figures = async () => {
    const { lengthUnit: length, tensionUnit: tension } = store.getState().preferences;
    const { changedFigures, changesText } = await import('../screens/describe/changedFigures.ts');
    return { changed: (a: Wheel, b: Wheel) => changedFigures(a, b, { length, tension }), changesText };
  };
  return {
    /** The other tab's figures stand here now. */
    adopted: async (before: readonly Wheel[], after: readonly Wheel[]) => {
      const [was, is] = [open(before), open(after)];
      if (was === undefined || is === undefined || was === is) return;
      const { changed, changesText } = await figures();
      const changes = changed(was, is);
      if (changes.length > 0) tell('changedThere', changesText(changes, 'now'));
    },
    /** Both changed the wheel before either knew of the other; a figure that both changed stands as it is here. */
    met: async (known: readonly Wheel[], theirs: readonly Wheel[], both: readonly Wheel[]) => {
      const [base, their, is] = [open(known), open(theirs), open(both)];
      if (base === undefined || their === undefined || is === undefined) return tell('changedElsewhere');
      const { changed, changesText } = await figures();
      const fromThere = new Set(changed(base, their).map(({ path }) => path));
      const contested = changed(their, is).filter(({ path }) => fromThere.has(path));
      tell('changedElsewhere', changesText(contested, 'hereAndThere'));
    },
  };
}
