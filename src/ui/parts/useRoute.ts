import { useLayoutEffect, useState } from 'preact/hooks';
import { parseRoute, type Route, routeHref } from './route.ts';

export function useRoute(): Route {
  const [hash, setHash] = useState(location.hash);
  useLayoutEffect(() => {
    const changed = () => setHash(location.hash);
    addEventListener('hashchange', changed);
    return () => removeEventListener('hashchange', changed);
  }, []);
  return parseRoute(hash);
}

export const goTo = (route: Route): void => {
  location.hash = routeHref(route);
};

/** Without a way back to where it came from: for a form that has become something else. */
export const replaceWith = (route: Route): void => {
  location.replace(routeHref(route));
};
