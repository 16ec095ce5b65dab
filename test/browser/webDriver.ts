/**
 * The few commands of the WebDriver protocol that the tests need, by plain requests.
 *
 * @source W3C Recommendation, WebDriver, 2018, section 6 (sessions), 8–13 (navigation, frames, elements, scripts)
 */

/** What the protocol calls a web element reference: its key is the same in every browser. */
const ELEMENT_KEY = 'element-6066-11e4-a52e-4f735466cecf';
type ElementReference = { readonly [ELEMENT_KEY]: string };

export interface WebDriverPage {
  readonly goTo: (url: string) => Promise<void>;
  readonly reload: () => Promise<void>;
  readonly resize: (width: number, height: number) => Promise<void>;
  /** Runs the function in the page; what it is given and gives back goes as JSON. */
  readonly evaluate: <Args extends readonly unknown[], Result>(
    body: (...args: Args) => Result,
    ...args: Args
  ) => Promise<Result>;
  /** Waits for the element that the function returns, then clicks it as a hand would. */
  readonly click: <Args extends readonly unknown[]>(
    find: (...args: Args) => Element | undefined,
    ...args: Args
  ) => Promise<void>;
  /** Waits for the input, empties it and types. */
  readonly fill: <Args extends readonly unknown[]>(
    text: string,
    find: (...args: Args) => Element | undefined,
    ...args: Args
  ) => Promise<void>;
  /** Waits until the function gives something true. */
  readonly waitFor: <Args extends readonly unknown[], Result>(
    what: string,
    limitMs: number,
    body: (...args: Args) => Result,
    ...args: Args
  ) => Promise<NonNullable<Result>>;
  /** Waits for a frame; everything after is done inside it, until `goTo`. */
  readonly enterFrame: <Args extends readonly unknown[]>(
    find: (...args: Args) => Element | undefined,
    ...args: Args
  ) => Promise<void>;
  readonly screenshot: () => Promise<Buffer>;
  readonly close: () => Promise<void>;
}

const POLL_MS = 200;
const CLICK_TRIES = 25;
/** For an element to come; no test passes by it. */
const ELEMENT_MS = 30_000;

/** Begins a session with the driver that listens there. */
export async function startWebDriver(driverUrl: string, capabilities: object): Promise<WebDriverPage> {
  const began = (await send('POST', `${driverUrl}/session`, { capabilities: { alwaysMatch: capabilities } })) as {
    readonly sessionId: string;
  };
  const session = `${driverUrl}/session/${began.sessionId}`;
  const command = (path: string, body: object) => send('POST', `${session}${path}`, body);
  const run = (body: unknown, args: readonly unknown[]) =>
    command('/execute/sync', { script: `return (${String(body)}).apply(null, arguments)`, args });

  const waitFor: WebDriverPage['waitFor'] = async (what, limitMs, body, ...args) => {
    for (let waited = 0; waited <= limitMs; waited += POLL_MS) {
      const found = await run(body, args);
      if (found) return found as never;
      await new Promise((resolve) => setTimeout(resolve, POLL_MS));
    }
    const seen = await run(() => document.body.textContent, []);
    throw new Error(`Waited ${limitMs / 1e3} s for ${what}. On the page stood:\n${seen}`);
  };
  const element = async (find: (...args: never[]) => unknown, args: readonly unknown[]): Promise<string> => {
    const found = await waitFor(`the element of ${find} ${JSON.stringify(args)}`, ELEMENT_MS, find as never, ...args);
    return (found as ElementReference)[ELEMENT_KEY];
  };
  return {
    goTo: async (url) => void (await command('/url', { url })),
    reload: async () => void (await command('/refresh', {})),
    resize: async (width, height) => void (await command('/window/rect', { x: 0, y: 0, width, height })),
    evaluate: async (body, ...args) => (await run(body, args)) as never,
    click: async (find, ...args) => {
      for (let tries = 1; ; tries++) {
        const id = await element(find, args);
        try {
          // What stays in place over the page would lie on an element that was scrolled just to its edge.
          await run((found: Element) => found.scrollIntoView({ block: 'center' }), [{ [ELEMENT_KEY]: id }]);
          return void (await command(`/element/${id}/click`, {}));
        } catch (error) {
          // The page may just have grown, or been written anew: then again, as a hand does.
          if (tries === CLICK_TRIES || !/click intercepted|stale element/.test(`${error}`)) throw error;
          await new Promise((resolve) => setTimeout(resolve, POLL_MS));
        }
      }
    },
    fill: async (text, find, ...args) => {
      const id = await element(find, args);
      await command(`/element/${id}/clear`, {});
      await command(`/element/${id}/value`, { text });
    },
    enterFrame: async (find, ...args) => {
      const id = await element(find, args);
      await command('/frame', { id: { [ELEMENT_KEY]: id } });
    },
    waitFor,
    screenshot: async () => Buffer.from((await send('GET', `${session}/screenshot`)) as string, 'base64'),
    close: async () => void (await send('DELETE', session)),
  };
}

async function send(method: string, url: string, body?: object): Promise<unknown> {
  const response = await fetch(url, {
    method,
    ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }),
  });
  const { value } = (await response.json()) as { readonly value: unknown };
  if (response.ok) return value;
  const { error, message } = value as { readonly error: string; readonly message: string };
  throw new Error(`${method} ${new URL(url).pathname}: ${error}: ${message}`);
}
