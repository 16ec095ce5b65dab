// @vitest-environment happy-dom
import { cleanup, render } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import { writeWheels } from '../../../src/spokes/wheelsFile.ts';
import { ImportPreview } from '../../../src/ui/screens/ImportPreview.tsx';
import { createApp } from '../../../src/ui/store/createApp.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { AppContext } from '../../../src/ui/store/useStore.ts';
import { EMPTY_SHELF, simulatedPorts } from '../store/simulatedPorts.ts';

afterEach(cleanup);

describe('the preview of an import', () => {
  it('says that two wheels of one id are kept both, before anything is taken', async () => {
    const steel = demoWheel('steelRear').wheel;
    const other = { ...demoWheel('compositeRear').wheel, id: steel.id };
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    await app.actions.readFile(new Blob([writeWheels([steel, other])]), 'wheels.json');
    render(
      <AppContext.Provider value={app}>
        <ImportPreview />
      </AppContext.Provider>,
    );
    const words = document.body.textContent;
    expect(words).toContain(`Two wheels that are not the same have the id “${steel.id}”: both are kept`);
    for (const { name } of [steel, other]) expect(words).toContain(`“${name}” is new and will be added.`);
    expect(app.store.getState().wheels.list).toEqual([]);
    app.actions.confirmImport();
    expect(
      app.store
        .getState()
        .wheels.list.map(({ name }) => name)
        .toSorted(),
    ).toEqual([steel.name, other.name].toSorted());
  });
});
