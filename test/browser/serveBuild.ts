import { existsSync } from 'node:fs';
import type { TestProject } from 'vitest/node';
import { findBrowser } from '../../tools/findBrowser.ts';
import { startPreview } from './startPreview.ts';

declare module 'vitest' {
  interface ProvidedContext {
    readonly baseUrl: string;
    readonly browserPath: string;
  }
}

/** Serves the built app on a free port for all browser tests. */
export default async function serveBuild(project: TestProject): Promise<() => Promise<void>> {
  if (!existsSync('dist/index.html'))
    throw new Error('dist/ is missing: run `npx vite build` before the browser tests.');
  project.provide('browserPath', findBrowser());
  const server = await startPreview();
  project.provide('baseUrl', server.url);
  return server.close;
}
