/** Where the person is. Kept in the address after `#`, so that back, reload and a bookmark work without a server. */
export type Route =
  | { readonly screen: 'wheels' }
  | { readonly screen: 'new' }
  | { readonly screen: 'sheetCheck' }
  | { readonly screen: 'settings' }
  | { readonly screen: 'help'; readonly topic: string }
  | { readonly screen: WheelScreen; readonly wheelId: string };
export type WheelScreen = 'describe' | 'listen' | 'judge' | 'compare' | 'report';

const WHEEL_SCREENS: readonly string[] = ['describe', 'listen', 'judge', 'compare', 'report'] satisfies WheelScreen[];
const isWheelScreen = (name: string): name is WheelScreen => WHEEL_SCREENS.includes(name);

/** Reads an address; an unknown one leads to the list of wheels. */
export function parseRoute(hash: string): Route {
  const parts = hash.replace(/^#?\/?/, '').split('/');
  const [first = '', second = '', third = ''] = parts.map(decoded);
  if (first === 'wheel' && second !== '' && isWheelScreen(third)) return { screen: third, wheelId: second };
  if (first === 'new' || first === 'settings') return { screen: first };
  if (first === 'sheet') return { screen: 'sheetCheck' };
  if (first === 'help') return { screen: 'help', topic: second };
  return { screen: 'wheels' };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function routeHref(route: Route): string {
  switch (route.screen) {
    case 'wheels':
      return '#/';
    case 'new':
    case 'settings':
      return `#/${route.screen}`;
    case 'sheetCheck':
      return '#/sheet';
    case 'help':
      return route.topic === '' ? '#/help' : `#/help/${encodeURIComponent(route.topic)}`;
    default:
      return `#/wheel/${encodeURIComponent(route.wheelId)}/${route.screen}`;
  }
}
