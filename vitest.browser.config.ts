import { defineConfig } from 'vitest/config';

const common = {
  globalSetup: ['test/browser/serveBuild.ts'],
  environment: 'node',
  testTimeout: 180_000,
  hookTimeout: 120_000,
};

/**
 * The built app in real browsers: run `vite build` first (`npm run test:browser` does both). One browser at a time where something is timed;
 * then several at once that hear whole rounds, which last as long as the plucking does.
 */
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          ...common,
          name: 'one at a time',
          include: ['test/browser/**/*.browser.ts'],
          fileParallelism: false,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          ...common,
          name: 'whole rounds',
          include: ['test/browser/**/*.round.ts'],
          testTimeout: 420_000,
          maxWorkers: 3,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
