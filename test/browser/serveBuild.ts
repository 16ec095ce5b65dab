import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { findBrowser } from '../../tools/findBrowser.ts';
import { builtFolder } from './builtFolder.ts';
import { startPreview } from './startPreview.ts';

declare module 'vitest' {
  interface ProvidedContext {
    readonly baseUrl: string;
    readonly browserPath: string;
  }
}

/** Serves the built app on a free port for all browser tests. */
export default async function serveBuild(project: TestProject): Promise<() => Promise<void>> {
  if (!existsSync(join(builtFolder(), 'index.html')))
    throw new Error(`${builtFolder()} holds no built app: run \`npx vite build\` before the browser tests.`);
  project.provide('browserPath', findBrowser());
  const server = await startPreview();
  project.provide('baseUrl', server.url);
  return server.close;
}
