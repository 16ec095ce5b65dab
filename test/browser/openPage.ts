import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { inject } from 'vitest';

export const PHONE = { width: 390, height: 844 } as const;
export const DESK = { width: 1280, height: 800 } as const;

export interface OpenOptions {
  /** Absolute path of the sound that the microphone hears. */
  readonly wav?: string;
  /** Default: allowed. */
  readonly microphone?: 'allowed' | 'refused';
  readonly size?: { readonly width: number; readonly height: number };
  /** Of the browser's letters, CSS pixels, as a person sets it in the system. Default: 16. */
  readonly letterPx?: number;
  /** Default: the built app on the shared server. */
  readonly url?: string;
  /** Before anything is loaded. */
  readonly before?: (page: Page) => Promise<void>;
}
export interface OpenPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Where the built app is served. */
  readonly base: string;
  /** What the page logged as an error or threw. */
  readonly errors: string[];
  readonly close: () => Promise<void>;
}

/** A fresh Chromium with a profile of its own that hears a file as its microphone. */
export async function openPage(options: OpenOptions = {}): Promise<OpenPage> {
  const allowed = options.microphone !== 'refused';
  const browser = await chromium.launch({
    executablePath: inject('browserPath'),
    headless: true,
    args: [
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--use-fake-device-for-media-stream',
      ...(allowed ? ['--use-fake-ui-for-media-stream'] : []),
      ...(options.letterPx === undefined ? [] : [`--blink-settings=defaultFontSize=${options.letterPx}`]),
      // Without "%noloop" the file would begin again after its end.
      ...(options.wav ? [`--use-file-for-fake-audio-capture=${options.wav}%noloop`] : []),
    ],
  });
  const context = await browser.newContext({
    viewport: options.size ?? PHONE,
    ...(allowed ? { permissions: ['microphone'] } : {}),
  });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  await options.before?.(page);
  await page.goto(options.url ?? inject('baseUrl'));
  return { page, context, base: inject('baseUrl'), errors, close: () => browser.close() };
}
