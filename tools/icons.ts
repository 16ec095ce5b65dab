/** Draws public/icon.svg into the PNG sizes that phones ask for. Run again when the sign changes; the PNGs are committed. */
import { readFileSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { findBrowser } from './findBrowser.ts';

const svg = readFileSync('public/icon.svg', 'utf8');
/** A maskable icon loses up to a tenth on each side: the sign stands smaller on the same paper. */
const maskable = svg
  .replace(/<rect x="30"[^>]*\/>/, '')
  .replace(/(<rect width="512"[^>]*\/>)([\s\S]*)(<\/svg>)/, '$1<g transform="translate(77 77) scale(.7)">$2</g>$3');

const ICONS = [
  { file: 'icon-192.png', size: 192, source: svg },
  { file: 'icon-512.png', size: 512, source: svg },
  { file: 'icon-maskable-512.png', size: 512, source: maskable },
  { file: 'apple-touch-icon.png', size: 180, source: maskable },
] as const;

const browser = await chromium.launch({ executablePath: findBrowser(), args: ['--no-sandbox', '--disable-gpu'] });
for (const { file, size, source } of ICONS) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${source}`);
  await page.screenshot({ path: `public/${file}` });
  await page.close();
}
await browser.close();
