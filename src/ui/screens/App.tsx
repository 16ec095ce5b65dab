import { useLayoutEffect } from 'preact/hooks';
import { lazyScreen } from '../parts/lazyScreen.tsx';
import { Messages } from '../parts/Messages.tsx';
import type { Route } from '../parts/route.ts';
import { Sheet } from '../parts/Sheet.tsx';
import { useRoute } from '../parts/useRoute.ts';
import { useTheme } from '../parts/useTheme.ts';
import { useActions, useStore } from '../store/useStore.ts';
import { WheelList } from './WheelList.tsx';
import Wheels from './Wheels.tsx';

const NewWheel = lazyScreen(() => import('./NewWheel.tsx'));
const Settings = lazyScreen(() => import('./Settings.tsx'));
const Help = lazyScreen(() => import('./Help.tsx'));
const Describe = lazyScreen(() => import('./Describe.tsx'));
const Listen = lazyScreen(() => import('./Listen.tsx'));
const Report = lazyScreen(() => import('./evidence/Report.tsx'));
const Judge = lazyScreen(() => import('./Judge.tsx'));
const CheckSheet = lazyScreen(() => import('./evidence/CheckSheet.tsx'));
const Compare = lazyScreen(() => import('./evidence/Compare.tsx'));

/** Which sheet lies on the table. */
export function App() {
  useTheme();
  const route = useRoute();
  const wheelId = 'wheelId' in route ? route.wheelId : undefined;
  useOpenWheel(wheelId);
  // Its name alone: what a pluck changes is the screen's own affair.
  const name = useStore((state) => state.wheels.list.find((one) => one.id === wheelId)?.name);
  const ready = useStore((state) => state.wheels.status !== 'loading');
  if (wheelId !== undefined && name === undefined && ready)
    return (
      <Sheet title="No such wheel" route={route}>
        <main>
          <p>This wheel is not on this device; it may have been deleted, or the address belongs to another device.</p>
          <a class="button" href="#/">
            All wheels
          </a>
        </main>
      </Sheet>
    );
  return (
    <Sheet title={titleOf(route, name)} route={route} wheelId={wheelId}>
      <Messages />
      {route.screen === 'wheels' ? (
        <Wheels />
      ) : (
        <div class="panes">
          <section class="list-pane no-print" aria-label="Wheels on this device">
            <WheelList currentId={wheelId} />
            <a class="button" href="#/new">
              New wheel
            </a>
          </section>
          <div class="detail-pane">
            <Screen route={route} />
          </div>
        </div>
      )}
    </Sheet>
  );
}

function Screen({ route }: { readonly route: Route }) {
  const wheelId = 'wheelId' in route ? route.wheelId : undefined;
  const wheel = useStore((state) => state.wheels.list.find((one) => one.id === wheelId));
  switch (route.screen) {
    case 'new':
      return <NewWheel />;
    case 'settings':
      return <Settings />;
    case 'help':
      return <Help topic={route.topic} />;
    case 'sheetCheck':
      return <CheckSheet />;
    default:
      break;
  }
  if (wheel === undefined) return <main aria-busy="true" />;
  switch (route.screen) {
    case 'describe':
      return <Describe wheel={wheel} />;
    case 'listen':
      return <Listen wheel={wheel} />;
    case 'judge':
      return <Judge wheel={wheel} />;
    case 'report':
      return <Report wheel={wheel} />;
    case 'compare':
      return <Compare wheel={wheel} />;
    default:
      return <main>This sheet is not drawn yet.</main>;
  }
}

/** The wheel on screen is the one the store works on; leaving it pauses what listens. */
function useOpenWheel(wheelId: string | undefined): void {
  const actions = useActions();
  const ready = useStore((state) => state.wheels.status === 'ready');
  const open = useStore((state) => state.wheels.openId);
  useLayoutEffect(() => {
    if (!ready) return;
    if (wheelId === undefined) {
      if (open !== undefined) actions.closeWheel();
    } else if (wheelId !== open) actions.openWheel(wheelId);
  }, [ready, wheelId, open, actions]);
}

function titleOf(route: Route, wheelName: string | undefined): string {
  switch (route.screen) {
    case 'wheels':
      return 'Ringtrue';
    case 'new':
      return 'New wheel';
    case 'settings':
      return 'Settings';
    case 'help':
      return 'Help';
    case 'sheetCheck':
      return 'Check a sheet';
    default:
      return wheelName ?? 'Wheel';
  }
}
