import { execFileSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
const PLACES = [
  '/usr/bin/chromium',
  '/usr/lib/chromium/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

/**
 * Finds a Chromium to run the browser tests in: `CHROME_PATH`, then the usual names and places; else, as root on a Debian-like system,
 * installs the distribution's own.
 *
 * @returns the path of the program
 * @throws Error with a sentence that says what to do
 */
export function findBrowser(): string {
  const wished = process.env.CHROME_PATH;
  if (wished) {
    if (runs(wished)) return wished;
    throw new Error(`CHROME_PATH is ${wished}, which cannot be run. Point it at a Chromium or unset it.`);
  }
  return look() ?? installed() ?? giveUp();
}

function look(): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  return [...folders.flatMap((folder) => NAMES.map((name) => join(folder, name))), ...PLACES].find(runs);
}

function installed(): string | undefined {
  if (process.getuid?.() !== 0 || !runs('/usr/bin/apt-get')) return undefined;
  console.log('No Chromium found: installing it with apt-get, which takes a minute.');
  const install = () =>
    execFileSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], {
      stdio: ['ignore', 'ignore', 'inherit'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
  try {
    install();
  } catch {
    try {
      execFileSync('apt-get', ['update'], { stdio: ['ignore', 'ignore', 'inherit'] });
      install();
    } catch {
      return undefined;
    }
  }
  return look();
}

function giveUp(): never {
  throw new Error(
    'The browser tests need Chromium. Install it (on Debian: apt-get install chromium) or set CHROME_PATH to its program.',
  );
}

function runs(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
