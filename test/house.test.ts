import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name));

const pure = ['src/audio', 'src/physics', 'src/spokes', 'src/drawing']
  .flatMap(filesBelow)
  .filter((file) => !file.startsWith('src/audio/edge'));

const withoutComments = (text: string): string => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
const offenders = (files: readonly string[], pattern: RegExp): string[] =>
  files.filter((file) => pattern.test(withoutComments(readFileSync(file, 'utf8'))));

const importsOf = (file: string): string[] =>
  [...readFileSync(file, 'utf8').matchAll(/(?:from|import\()\s*'([^']+)'/g)].map((match) => match[1] ?? '');

describe('the house', () => {
  test('pure rooms read no clock, no randomness and no console', () => {
    expect(offenders(pure, /\bMath\.random\b|\bDate\.now\b|\bnew Date\(\)|\bperformance\.|\bconsole\./)).toEqual([]);
  });

  test('signals never import the code that they judge', () => {
    const guilty = filesBelow('test/signals')
      .filter((file) => !file.includes('selftest'))
      .filter((file) => importsOf(file).some((path) => path.includes('src/')));
    expect(guilty).toEqual([]);
  });

  test('the ear and the member never import each other', () => {
    const crossing = (room: string, other: string) =>
      filesBelow(`src/${room}`).filter((file) => importsOf(file).some((path) => path.includes(`/${other}/`)));
    expect(crossing('audio', 'physics')).toEqual([]);
    expect(crossing('physics', 'audio')).toEqual([]);
  });

  test('no file outgrows three hundred lines', () => {
    const long = filesBelow('src').filter((file) => readFileSync(file, 'utf8').split('\n').length > 301);
    expect(long).toEqual([]);
  });
});
