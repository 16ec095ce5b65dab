import { createApp } from '../store/createApp.ts';
import type { MessageCode } from '../store/message.ts';
import type { Ports } from '../store/ports.ts';
import type { App } from '../store/useStore.ts';
import { afterPaint } from './afterPaint.ts';
import { type Database, openDatabase, type Written } from './database.ts';
import { createFeedback } from './feedback.ts';
import { createListenPort } from './listenPort.ts';
import { loadState } from './loadState.ts';
import { createMeasurePort } from './measurePort.ts';
import { watchOtherTabs } from './otherTabs.ts';
import { createRecordings } from './recordings.ts';
import { saveChanges, type Together } from './saveChanges.ts';
import { shareFile } from './shareFile.ts';
import { createSpeech } from './speech.ts';
import { tellChanges } from './tellChanges.ts';
import { watchForUpdate } from './update.ts';
import { createWakeLock } from './wakeLock.ts';

/**
 * The app over the real world. It is there at once with nothing on the shelf; what was kept comes a moment later, and only then
 * is anything saved.
 */
export function startApp(): App {
  // The world outside may speak before the app is put together; nothing it says then can matter yet.
  let tell: (code: MessageCode, detail?: string) => void = () => {};
  let noticeWakeLock: (state: 'off' | 'held' | 'unavailable') => void = () => {};
  let readOthers = () => {};
  const tabs = watchOtherTabs(() => readOthers());
  const database = announced(
    openDatabase((problem) => tell(problem)),
    () => {
      tabs.announce();
      app.untell('storageFull');
    },
  );
  const speech = createSpeech();
  const update = watchForUpdate(
    () => app.updateReady(),
    () => app.offlineReady(),
    () => app.whenRoundRests(() => location.reload()),
  );
  const ports: Ports = {
    clock: { now: () => new Date().toISOString(), newId: () => crypto.randomUUID() },
    listen: createListenPort(),
    measure: createMeasurePort(),
    feedback: { ...createFeedback(), speak: speech.speak },
    wakeLock: createWakeLock((state) => noticeWakeLock(state)),
    files: { share: shareFile, unpack: async (bytes) => (await import('./unpackZip.ts')).unpackZip(bytes) },
    recordings: createRecordings(database),
    update,
  };
  const app = createApp(ports);
  tell = app.tell;
  noticeWakeLock = app.noticeWakeLock;
  document.addEventListener('visibilitychange', () => app.noticeSight(document.visibilityState === 'visible'));

  const keepAsked = async () => {
    const persisted = await navigator.storage?.persist?.().catch(() => false);
    const estimate = await navigator.storage?.estimate?.().catch(() => undefined);
    app.noticeStorage(
      persisted === undefined ? 'unknown' : persisted ? 'yes' : 'no',
      estimate?.usage === undefined || estimate.quota === undefined
        ? undefined
        : { usedBytes: estimate.usage, quotaBytes: estimate.quota },
    );
  };
  const load = async () => {
    const { state, session, unreadable } = await loadState(database, app.store.getState());
    // Those alone: what was said meanwhile, of a new version for one, stands.
    const { preferences, wheels } = state;
    app.store.setState({ preferences, wheels });
    const together: Together = {
      read: async () => {
        const kept = await loadState(database, app.store.getState());
        return kept.state.wheels.status === 'failed' ? undefined : kept.state.wheels.list;
      },
      adopt: (list) => {
        const before = app.store.getState().wheels.list;
        const changes = tellChanges(app.store, app.tell);
        app.adoptWheels(list);
        void changes.adopted(before, list);
      },
      onOvertaken: (...states) => void tellChanges(app.store, app.tell).met(...states),
    };
    const saving = saveChanges(app.store, database, together, () => void keepAsked(), afterPaint);
    readOthers = saving.catchUp;
    for (const name of unreadable) tell('storageUnreadable', name);
    app.resume(session);
    await app.refreshRecordings();
  };
  void load();
  return app;
}

/** Tells of every wheel that was written or deleted. */
const announced = (database: Database, onWritten: () => void): Database => {
  const told = (written: Written) => {
    if (written === 'written') onWritten();
    return written;
  };
  return {
    ...database,
    write: async (change) => told(await database.write(change)),
    deleteWheel: async (id) => told(await database.deleteWheel(id)),
  };
};
