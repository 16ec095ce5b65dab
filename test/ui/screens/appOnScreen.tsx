import { fireEvent, render, screen } from '@testing-library/preact';
import type { Wheel } from '../../../src/spokes/wheel.ts';
import { App } from '../../../src/ui/screens/App.tsx';
import { createApp, type RunningApp } from '../../../src/ui/store/createApp.ts';
import type { ListenHandlers } from '../../../src/ui/store/ports.ts';
import { AppContext } from '../../../src/ui/store/useStore.ts';
import { hertz } from '../../../src/units.ts';
import { EMPTY_SHELF, type Simulated, simulatedPorts } from '../store/simulatedPorts.ts';

export interface OnScreen {
  readonly app: RunningApp;
  readonly simulated: Simulated;
  /** Of the microphone, once it was opened. */
  readonly ear: () => ListenHandlers | undefined;
  /** What the ear was told to expect, the newest last. */
  readonly expectations: readonly unknown[];
  readonly wheel: () => Wheel;
}

/** The whole app with a wheel on its shelf, at an address, over simulated ports. */
export function appOnScreen(wheel: Wheel, address: string): OnScreen {
  location.hash = address;
  const simulated = simulatedPorts();
  const expectations: unknown[] = [];
  let ear: ListenHandlers | undefined;
  simulated.microphone = (handlers) => {
    ear = handlers;
    const settings = { sampleRateHz: hertz(48_000) };
    const expect = (expected: unknown) => expectations.push(expected);
    return Promise.resolve({
      ok: true,
      listening: { kind: 'microphone', settings, expect, holdOff: () => {}, close: () => {} },
    });
  };
  const app = createApp(simulated.ports, { ...EMPTY_SHELF, wheels: { ...EMPTY_SHELF.wheels, list: [wheel] } });
  render(
    <AppContext.Provider value={app}>
      <App />
    </AppContext.Provider>,
  );
  return {
    app,
    simulated,
    ear: () => ear,
    expectations,
    wheel: () => {
      const one = app.store.getState().wheels.list.find((known) => known.id === wheel.id);
      if (one === undefined) throw new RangeError(`no wheel ${wheel.id}`);
      return one;
    },
  };
}

export const tap = async (name: string | RegExp) => fireEvent.click(await screen.findByRole('button', { name }));
export const choose = async (name: string | RegExp) => fireEvent.click(await screen.findByRole('radio', { name }));
export const type = async (label: string | RegExp, value: string) =>
  fireEvent.input(await screen.findByLabelText(label), { target: { value } });
export const unfold = async (title: RegExp) => {
  // The screen's code is loaded when it is first shown.
  const summary = (await screen.findAllByText(title, {}, { timeout: 10_000 })).find((one) => one.tagName === 'SUMMARY');
  if (summary === undefined) throw new RangeError(`no part ${title}`);
  fireEvent.click(summary);
};
