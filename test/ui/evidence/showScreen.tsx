import { render } from '@testing-library/preact';
import type { ComponentType } from 'preact';
import type { Wheel } from '../../../src/spokes/wheel.ts';
import { createApp, type RunningApp } from '../../../src/ui/store/createApp.ts';
import { AppContext } from '../../../src/ui/store/useStore.ts';
import { EMPTY_SHELF, simulatedPorts } from '../store/simulatedPorts.ts';

/** One screen of a wheel, in an app that holds this wheel alone. */
export function showScreen(wheel: Wheel, Screen: ComponentType<{ wheel: Wheel }>): RunningApp {
  const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
  app.actions.saveWheel(wheel);
  render(
    <AppContext.Provider value={app}>
      <Screen wheel={wheel} />
    </AppContext.Provider>,
  );
  return app;
}
