import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import type { Readable } from 'node:stream';
import type { WebKitPrograms } from '../../tools/findWebKit.ts';
import { startWebDriver, type WebDriverPage } from './webDriver.ts';

const START_MS = 30_000;

/** A fresh WebKitGTK on a display of its own; nothing is kept after `close`. */
export async function openWebKit(
  programs: WebKitPrograms,
): Promise<{ readonly page: WebDriverPage; readonly close: () => Promise<void> }> {
  const running: ChildProcess[] = [];
  // A run that is broken off leaves nothing behind.
  process.once('exit', () => {
    for (const one of running) one.kill();
  });
  const stop = async () => {
    for (const process of running.reverse()) {
      if (process.exitCode !== null || process.signalCode !== null) continue;
      const gone = once(process, 'exit');
      process.kill();
      await gone;
    }
  };
  try {
    // Xvfb takes the first free display and writes its number where it was told to.
    const display = spawn(programs.display, ['-displayfd', '3', '-screen', '0', '1400x1000x24', '-nolisten', 'tcp'], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    });
    running.push(display);
    const [number] = await once(display.stdio[3] as Readable, 'data', { signal: AbortSignal.timeout(START_MS) });
    const port = await freePort();
    const driver = spawn(programs.driver, [`--port=${port}`, '--host=127.0.0.1'], {
      stdio: 'ignore',
      // Its sandbox needs rights that a container seldom gives; only pages of this machine are opened.
      env: { ...process.env, DISPLAY: `:${String(number).trim()}`, WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1' },
    });
    running.push(driver);
    const url = `http://127.0.0.1:${port}`;
    await answers(`${url}/status`);
    const page = await startWebDriver(url, {
      browserName: 'MiniBrowser',
      'webkitgtk:browserOptions': {
        binary: programs.browser,
        args: ['--automation'],
      },
    });
    return {
      page,
      close: async () => {
        await page.close().catch(() => {});
        await stop();
      },
    };
  } catch (error) {
    await stop();
    throw error;
  }
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  if (address === null || typeof address === 'string') throw new Error('The system gave no free port.');
  return address.port;
}

async function answers(url: string): Promise<void> {
  for (let waited = 0; waited < START_MS; waited += 100) {
    const ok = await fetch(url).then(
      (response) => response.ok,
      () => false,
    );
    if (ok) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`WebKitWebDriver did not answer at ${url} within ${START_MS / 1e3} s.`);
}
