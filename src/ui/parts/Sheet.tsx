import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { type Route, routeHref, type WheelScreen } from './route.ts';

interface Props {
  readonly title: string;
  /** The wheel on which the tabs work. */
  readonly wheelId?: string | undefined;
  readonly route: Route;
  readonly children: ComponentChildren;
}

const TABS: readonly { readonly screen: WheelScreen; readonly label: string; readonly also: readonly WheelScreen[] }[] =
  [
    { screen: 'describe', label: 'Describe', also: [] },
    { screen: 'listen', label: 'Listen', also: [] },
    { screen: 'judge', label: 'Judge', also: ['compare', 'report'] },
  ];

/** The page as a drawing sheet: title block on top, the sheets of one wheel as tabs. */
export function Sheet({ title, wheelId, route, children }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const first = useRef(true);
  useEffect(() => {
    scrollTo(0, 0);
    if (!first.current) heading.current?.focus({ preventScroll: true });
    first.current = false;
  }, [routeHref(route)]);
  useEffect(() => {
    document.title = title === 'Ringtrue' ? title : `${title} · Ringtrue`;
  }, [title]);
  const tool = (to: Route, label: string) => (
    <div class="cell">
      <a class="tool-cell" href={routeHref(to)} aria-current={route.screen === to.screen ? 'page' : undefined}>
        {label}
      </a>
    </div>
  );
  return (
    <div class="app">
      <div class="sheet">
        <header class="title-block">
          <div class="cell">
            <a class="mark-cell" href="#/" aria-label="Ringtrue: all wheels">
              <Mark />
            </a>
          </div>
          <div class="title-cell">
            <h1 ref={heading} tabIndex={-1}>
              {title}
            </h1>
          </div>
          {tool({ screen: 'help', topic: '' }, 'Help')}
          {tool({ screen: 'settings' }, 'Settings')}
        </header>
        {wheelId !== undefined && (
          <nav class="tabs" aria-label="This wheel">
            {TABS.map((tab) => (
              <div class="cell" key={tab.screen}>
                <a
                  href={routeHref({ screen: tab.screen, wheelId })}
                  aria-current={
                    route.screen === tab.screen || tab.also.some((one) => one === route.screen) ? 'page' : undefined
                  }
                >
                  {tab.label}
                </a>
              </div>
            ))}
          </nav>
        )}
        {children}
      </div>
    </div>
  );
}

/** Our sign: a plucked spoke swinging between rim and crossing, ticked where it rings true. */
const Mark = () => (
  <svg viewBox="0 0 48 48" aria-hidden="true">
    <path d="M6 12Q24 2 42 12" fill="none" stroke="currentColor" stroke-width="3" stroke-linecap="round" />
    <path d="M24 8V44" fill="none" stroke="currentColor" stroke-width="1.5" stroke-dasharray="3 3" />
    <path
      d="M24 8C34 20 34 32 24 44C14 32 14 20 24 8Z"
      fill="none"
      stroke="var(--accent)"
      stroke-width="3"
      stroke-linejoin="round"
    />
  </svg>
);
