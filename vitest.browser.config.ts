import { defineConfig } from 'vitest/config';

/** The built app in a real browser: run `vite build` first (`npm run test:browser` does both). */
export default defineConfig({
  test: {
    include: ['test/browser/**/*.browser.ts'],
    globalSetup: ['test/browser/serveBuild.ts'],
    environment: 'node',
    testTimeout: 180_000,
    hookTimeout: 120_000,
    fileParallelism: false,
  },
});
