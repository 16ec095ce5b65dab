import { useRef } from 'preact/hooks';
import { useKeptFocus } from '../parts/useKeptFocus.ts';
import { goTo } from '../parts/useRoute.ts';
import type { DemoName } from '../store/appActions.ts';
import { useActions, useStore } from '../store/useStore.ts';
import { localDay } from '../text/localTime.ts';
import { Cautions } from './Cautions.tsx';
import { ImportPreview } from './ImportPreview.tsx';
import { InstallHint } from './InstallHint.tsx';
import { WheelList } from './WheelList.tsx';

const DEMOS: readonly { readonly name: DemoName; readonly label: string; readonly gist: string }[] = [
  { name: 'steelRear', label: 'Demo: steel rear wheel', gist: 'crossed spokes, a few of them off' },
  { name: 'compositeRear', label: 'Demo: composite rear wheel', gist: 'straight-pull composite spokes' },
];

/** The first screen: what to do first, the wheels on this device, files. */
export default function Wheels() {
  const actions = useActions();
  const status = useStore((state) => state.wheels.status);
  const some = useStore((state) => state.wheels.list.length > 0);
  const read = useStore((state) => state.preferences.introductionRead);
  useKeptFocus(read, () => document.querySelector('main .start'));
  const demo = (name: DemoName) => goTo({ screen: 'listen', wheelId: actions.openDemo(name) });
  return (
    <>
      <div class="panes home">
        <section class="list-pane" aria-label="Wheels on this device">
          <WheelList />
        </section>
        <main class="detail-pane">
          {!read && <Introduction />}
          <ImportPreview />
          {some && (
            <section class="narrow-only" aria-label="Wheels on this device">
              <WheelList />
            </section>
          )}
          <h2>{some ? 'Without a wheel at hand' : 'Try it without a wheel'}</h2>
          <div class="starts">
            {DEMOS.map((one) => (
              <button
                key={one.name}
                type="button"
                class="start"
                disabled={status === 'loading'}
                onClick={() => demo(one.name)}
              >
                <span class="name">{one.label}</span>
                {one.gist}
              </button>
            ))}
          </div>
          <Files />
          <InstallHint />
        </main>
      </div>
      <div class="foot-action no-print">
        <button type="button" class="button main-action" onClick={() => goTo({ screen: 'new' })}>
          New wheel
        </button>
      </div>
    </>
  );
}

function Introduction() {
  const actions = useActions();
  return (
    <section class="note caution" aria-label="Before the first wheel">
      <p class="lettering">Pluck a spoke; its tone tells its tension.</p>
      <p>Sound never leaves this device. There is no account and nothing is sent.</p>
      <Cautions />
      <button type="button" class="button" onClick={() => actions.setPreference('introductionRead', true)}>
        Understood
      </button>
    </section>
  );
}

function Files() {
  const actions = useActions();
  const input = useRef<HTMLInputElement>(null);
  const some = useStore((state) => state.wheels.list.length > 0);
  const last = useStore((state) => state.preferences.lastBackupAt);
  const persisted = useStore((state) => state.files.persisted);
  const read = async (file: File | undefined) => {
    if (file !== undefined) await actions.readFile(file, file.name);
    if (input.current) input.current.value = '';
  };
  return (
    <section aria-label="Files">
      <h2>Files</h2>
      {some && (
        <p>
          {last === undefined ? 'Never backed up.' : `Last backup ${localDay(last)}.`}{' '}
          {persisted !== 'yes' &&
            'Some phones clear what a page saved when it is not used for a week; a backup file is safe.'}
        </p>
      )}
      <div class="row">
        <button type="button" class="button grow" disabled={!some} onClick={() => void actions.exportEverything()}>
          Back up everything
        </button>
        <button type="button" class="button grow" onClick={() => input.current?.click()}>
          Import a file
        </button>
        <a class="button grow" href="#/sheet">
          Check a tension sheet
        </a>
      </div>
      <input
        ref={input}
        type="file"
        hidden
        accept=".json,.txt,.zip,application/json,text/plain,application/zip"
        onChange={(event) => void read(event.currentTarget.files?.[0])}
      />
    </section>
  );
}
