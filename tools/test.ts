/**
 * `npm test`: every room's tests, then the built app in real browsers; one plain closing line "N passed, N failed".
 * A missing browser is installed (tools/findBrowser.ts, tools/findWebKit.ts); where there can be no WebKitGTK its tests are skipped and
 * say why. The exit code is that of the worse of the two runs.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface VitestSummary {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTotalTestSuites: number;
  readonly numFailedTestSuites: number;
  readonly success: boolean;
}
interface Outcome {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

const folder = mkdtempSync(join(tmpdir(), 'ringtrue-test-'));
const node = process.execPath;

const run = (script: string, args: readonly string[]): number =>
  spawnSync(node, [script, ...args], { stdio: 'inherit' }).status ?? 1;

/** Runs vitest with one configuration; a run that never got to its tests counts as one failure. */
function vitest(name: string, args: readonly string[]): Outcome {
  const file = join(folder, `${name}.json`);
  const status = run('node_modules/vitest/vitest.mjs', [
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${file}`,
    ...args,
  ]);
  try {
    const summary = JSON.parse(readFileSync(file, 'utf8')) as VitestSummary;
    const failed = summary.numFailedTests > 0 || status === 0 ? summary.numFailedTests : 1;
    return { passed: summary.numPassedTests, failed, skipped: summary.numPendingTests };
  } catch {
    return { passed: 0, failed: 1, skipped: 0 };
  }
}

function build(): Outcome {
  return { passed: 0, failed: run('node_modules/vite/bin/vite.js', ['build']) === 0 ? 0 : 1, skipped: 0 };
}

const rooms = vitest('rooms', []);
const built = build();
const browser = built.failed
  ? { passed: 0, failed: 0, skipped: 0 }
  : vitest('browser', ['--config', 'vitest.browser.config.ts']);
rmSync(folder, { recursive: true });

const passed = rooms.passed + browser.passed;
const failed = rooms.failed + built.failed + browser.failed;
const skipped = rooms.skipped + browser.skipped;
if (skipped > 0) console.log(`${skipped} skipped, for the reason above`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
