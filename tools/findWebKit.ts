import { execFileSync } from 'node:child_process';
import { accessSync, constants, readdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';

export interface WebKitPrograms {
  readonly ok: true;
  /** WebKitWebDriver, MiniBrowser and Xvfb. */
  readonly driver: string;
  readonly browser: string;
  readonly display: string;
}
/** Why there is no WebKit on this machine, and what would bring it. */
export interface NoWebKit {
  readonly ok: false;
  readonly reason: string;
}

const PACKAGES = ['webkit2gtk-driver', 'xvfb'];
/** A machine without a way to the packages must not hold up the tests. */
const LONGEST_INSTALL_MS = 180_000;
const LIBRARIES = ['/usr/lib', '/usr/libexec', '/usr/lib64'];

/**
 * Finds WebKitGTK with its driver and a display without a screen; as root on a Debian-like system it is installed where it is missing.
 * It exists for Linux only, so that its absence is an answer and no failure.
 */
export function findWebKit(): WebKitPrograms | NoWebKit {
  if (process.platform !== 'linux') return { ok: false, reason: 'WebKitGTK exists for Linux only' };
  return (
    look() ?? installed() ?? { ok: false, reason: `not installed (on Debian: apt-get install ${PACKAGES.join(' ')})` }
  );
}

function look(): WebKitPrograms | undefined {
  const driver = onPath('WebKitWebDriver');
  const display = onPath('Xvfb');
  const browser = onPath('MiniBrowser') ?? miniBrowser();
  return driver && display && browser ? { ok: true, driver, browser, display } : undefined;
}

const onPath = (name: string): string | undefined =>
  (process.env.PATH ?? '')
    .split(delimiter)
    .filter(Boolean)
    .map((folder) => join(folder, name))
    .find(runs);

/** In a folder of its version, below one of its architecture: /usr/lib/…/webkit2gtk-4.1/MiniBrowser. */
function miniBrowser(): string | undefined {
  const below = (folder: string) => {
    try {
      return readdirSync(folder).map((name) => join(folder, name));
    } catch {
      return [];
    }
  };
  return LIBRARIES.flatMap(below)
    .flatMap((folder) => [folder, ...(/-linux-/.test(folder) ? below(folder) : [])])
    .filter((folder) => /webkit(2)?gtk-/.test(folder))
    .map((folder) => join(folder, 'MiniBrowser'))
    .find(runs);
}

function installed(): WebKitPrograms | undefined {
  if (process.getuid?.() !== 0 || !runs('/usr/bin/apt-get')) return undefined;
  console.log('No WebKitGTK found: installing it with apt-get, which takes a minute.');
  const aptGet = (...args: string[]) =>
    execFileSync('apt-get', args, {
      stdio: ['ignore', 'ignore', 'inherit'],
      timeout: LONGEST_INSTALL_MS,
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
  const install = () => aptGet('install', '-y', '--no-install-recommends', ...PACKAGES);
  try {
    install();
  } catch {
    try {
      aptGet('update');
      install();
    } catch {
      return undefined;
    }
  }
  return look();
}

function runs(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
