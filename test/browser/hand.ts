import type { Page } from 'playwright-core';
import type { WebDriverPage } from './webDriver.ts';

/** What a person does at the screen, in any browser: everything is found by the words that stand there. */
export interface Hand {
  /** A button or a link; the whole of its words or, where none has just these, a part of them. */
  readonly tap: (words: string) => Promise<void>;
  readonly fill: (label: string, text: string) => Promise<void>;
  /** One of a list. */
  readonly choose: (label: string, option: string) => Promise<void>;
  /** One of a few that are all in sight. */
  readonly pick: (legend: string, option: string) => Promise<void>;
  readonly unfold: (title: string) => Promise<void>;
  /** Waits until the words stand on the page. */
  readonly see: (words: string, limitMs?: number) => Promise<void>;
  readonly sees: (words: string) => Promise<boolean>;
  /** Waits until the function, run in the page, gives something true. */
  readonly until: (what: string, body: () => unknown, limitMs?: number) => Promise<void>;
  readonly evaluate: <Result>(body: () => Result) => Promise<Result>;
  readonly reload: () => Promise<void>;
}

/** For a thing to come on a machine that is busy; no test passes by it. */
const PATIENCE_MS = 60_000;

/** Of a round, to its last pluck. */
export const ROUND_MS = 240_000;

/** Runs in the page: the visible element of a kind with these words. */
function find(kind: 'button' | 'field' | 'option' | 'radio' | 'summary', words: string, option: string) {
  const said = (element: Element) => (element.textContent ?? '').replace(/\s+/g, ' ').trim();
  const named = (element: Element) => element.getAttribute('aria-label') ?? said(element);
  const shown = (element: Element) => element.getClientRects().length > 0;
  const all = (selector: string, within: ParentNode = document) => [...within.querySelectorAll(selector)];
  const best = (elements: readonly Element[], wanted: string) =>
    elements.find((element) => named(element) === wanted) ??
    elements.find((element) => named(element).includes(wanted));
  const field = () => {
    const label = all('label[for]').find((one) => shown(one) && said(one) === words);
    return label === undefined ? undefined : (document.getElementById(label.getAttribute('for') ?? '') ?? undefined);
  };
  switch (kind) {
    case 'button':
      return best(all('button, a[href]').filter(shown), words);
    case 'field':
      return field();
    case 'option': {
      const list = field();
      return list === undefined ? undefined : all('option', list).find((one) => said(one) === option);
    }
    case 'radio': {
      const group = all('fieldset').find((one) => shown(one) && said(one.querySelector('legend') ?? one) === words);
      return group === undefined ? undefined : all('label', group).find((one) => said(one) === option);
    }
    case 'summary':
      return all('summary').find((one) => shown(one) && said(one).startsWith(words));
  }
}

const isOpen = (title: string) =>
  [...document.querySelectorAll('summary')].some(
    (one) => (one.textContent ?? '').trim().startsWith(title) && one.parentElement?.hasAttribute('open'),
  );
const chooseByScript = (words: string, option: string) => {
  const label = [...document.querySelectorAll('label[for]')].find((one) => (one.textContent ?? '').trim() === words);
  const list = document.getElementById(label?.getAttribute('for') ?? '') as HTMLSelectElement;
  list.value = [...list.options].find((one) => one.text.trim() === option)?.value ?? '';
  list.dispatchEvent(new Event('change', { bubbles: true }));
};
const stands = (words: string) =>
  // biome-ignore lint/performance/useDomNodeTextContent: only what is shown counts, not what is folded away
  document.body.innerText.replace(/\s+/g, ' ').includes(words);

/** By WebDriver. */
export function driverHand(page: WebDriverPage): Hand {
  const see: Hand['see'] = async (words, limitMs = PATIENCE_MS) =>
    void (await page.waitFor(`“${words}”`, limitMs, stands, words));
  return {
    tap: (words) => page.click(find, 'button', words, ''),
    fill: (label, text) => page.fill(text, find, 'field', label, ''),
    // The list opens as a window of the system, where the driver cannot click: it is set as a script would.
    choose: async (label, option) => {
      await page.waitFor(`“${option}” of “${label}”`, PATIENCE_MS, find, 'option', label, option);
      await page.evaluate(chooseByScript, label, option);
    },
    pick: (legend, option) => page.click(find, 'radio', legend, option),
    unfold: async (title) => {
      if (!(await page.evaluate(isOpen, title))) await page.click(find, 'summary', title, '');
    },
    see,
    sees: (words) => page.evaluate(stands, words),
    until: async (what, body, limitMs = PATIENCE_MS) => void (await page.waitFor(what, limitMs, body)),
    evaluate: (body) => page.evaluate(body),
    reload: page.reload,
  };
}

/** By Playwright. */
export function playwrightHand(page: Page): Hand {
  const exactly = (words: string) => new RegExp(`^\\s*${words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}\\s*$`);
  const until: Hand['until'] = async (_, body, timeout = PATIENCE_MS) =>
    void (await page.waitForFunction(body, undefined, { timeout }));
  return {
    tap: async (words) => {
      const all = page.locator('button, a[href]').filter({ visible: true });
      await all.filter({ hasText: words }).first().waitFor({ timeout: PATIENCE_MS });
      const whole = all.filter({ hasText: exactly(words) });
      await ((await whole.count()) > 0 ? whole : all.filter({ hasText: words })).first().click();
    },
    fill: (label, text) => page.getByLabel(label, { exact: true }).fill(text),
    choose: async (label, option) =>
      void (await page.getByLabel(label, { exact: true }).selectOption({ label: option })),
    pick: (legend, option) =>
      page.getByRole('group', { name: legend, exact: true }).getByText(option, { exact: true }).click(),
    unfold: async (title) => {
      if (!(await page.evaluate(isOpen, title)))
        await page
          .locator('summary')
          .filter({ hasText: new RegExp(`^\\s*${title}`) })
          .click();
    },
    see: async (words, timeout = PATIENCE_MS) => void (await page.waitForFunction(stands, words, { timeout })),
    sees: (words) => page.evaluate(stands, words),
    until,
    evaluate: (body) => page.evaluate(body),
    reload: async () => void (await page.reload()),
  };
}
