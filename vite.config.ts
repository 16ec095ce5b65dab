import { readFileSync } from 'node:fs';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { compressAnswers } from './tools/compressAnswers.ts';
import { inlineStyles } from './tools/inlineStyles.ts';
import { printQrCode } from './tools/printQrCode.ts';

/** A certificate of one's own, so that a phone on the same network gets the microphone: RINGTRUE_CERT and RINGTRUE_KEY name the files. */
const { RINGTRUE_CERT: cert, RINGTRUE_KEY: key } = process.env;

export default defineConfig({
  base: './',
  build: { target: 'es2022' },
  worker: { format: 'es' },
  preview: cert && key ? { https: { cert: readFileSync(cert), key: readFileSync(key) } } : {},
  plugins: [
    printQrCode(),
    inlineStyles(),
    compressAnswers(),
    VitePWA({
      registerType: 'prompt',
      workbox: { globPatterns: ['**/*.{js,css,html,svg,png,woff2}'] },
      manifest: {
        id: './',
        name: 'Ringtrue',
        short_name: 'Ringtrue',
        description: 'Measures the tension of every spoke of a wheel by ear',
        start_url: './',
        scope: './',
        display: 'standalone',
        theme_color: '#f6f3ea',
        background_color: '#f6f3ea',
        icons: [
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
    }),
  ],
  test: {
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/browser/**', 'node_modules/**'],
    // Room for a slow or busy machine: no test is about time.
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
