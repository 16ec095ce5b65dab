import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';

type Loaded<Props> = { readonly default: ComponentType<Props> };

/** A screen whose code comes when it is first shown. Everything is precached, so it comes without a network too. */
export function lazyScreen<Props extends object>(load: () => Promise<Loaded<Props>>): ComponentType<Props> {
  let known: ComponentType<Props> | undefined;
  return function LazyScreen(props: Props) {
    const [state, setState] = useState<'loading' | 'ready' | 'failed'>(known === undefined ? 'loading' : 'ready');
    useEffect(() => {
      if (known !== undefined) return;
      let shown = true;
      load().then(
        (module) => {
          known = module.default;
          if (shown) setState('ready');
        },
        () => shown && setState('failed'),
      );
      return () => {
        shown = false;
      };
    }, []);
    const Screen = known;
    if (Screen !== undefined) return <Screen {...props} />;
    if (state === 'failed')
      return (
        <main>
          <p role="alert">This part of the app could not be loaded. Nothing is lost.</p>
          <button type="button" class="button" onClick={() => location.reload()}>
            Reload
          </button>
        </main>
      );
    return <main aria-busy="true" />;
  };
}
