import { describe, expect, it } from 'vitest';
import { writeWheelFile } from '../../../src/spokes/wheelFile.ts';
import { WHEELS_FORMAT, WHEELS_VERSION, writeWheels } from '../../../src/spokes/wheelsFile.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { incomingWheels } from '../../../src/ui/store/incomingWheels.ts';

const steel = demoWheel('steelRear').wheel;
const composite = demoWheel('compositeRear').wheel;

describe('one file for everything', () => {
  it('brings every wheel back', () => {
    const read = incomingWheels(writeWheels([steel, composite]));
    expect(read.ok && read.wheels.map(({ id }) => id)).toEqual([steel.id, composite.id]);
  });
  it('reads a single wheel’s file as well', () => {
    const read = incomingWheels(writeWheelFile(steel));
    expect(read.ok && read.wheels.map(({ id }) => id)).toEqual([steel.id]);
  });
  it('reads a file that went through an editor which put a byte order mark in front', () => {
    expect(incomingWheels(`\uFEFF${writeWheelFile(steel)}`).ok).toBe(true);
  });
  it('names the fields that it does not know, and takes the rest', () => {
    const text = writeWheelFile(steel).replace('"targetPercent"', '"targetPerCent": 3, "targetPercent"');
    const read = incomingWheels(text);
    expect(read.ok && [read.wheels.length, ...read.ignored]).toEqual([1, 'wheel.targetPerCent']);
    expect(incomingWheels(writeWheels([steel]))).toMatchObject({ ok: true, ignored: [] });
  });
  it.each([
    ['not JSON at all', 'tension;1000', 'fileNotJson'],
    ['JSON of something else', '{"name":"x"}', 'fileNotOurs'],
    ['a list', '[]', 'fileNotOurs'],
    ['null', 'null', 'fileNotOurs'],
    ['a newer version', JSON.stringify({ format: WHEELS_FORMAT, version: WHEELS_VERSION + 1 }), 'fileNewer'],
    ['wheels that are no list', JSON.stringify({ format: WHEELS_FORMAT, version: 1, wheels: 3 }), 'fileBroken'],
    ['no wheels', JSON.stringify({ format: WHEELS_FORMAT, version: 1, wheels: [] }), 'fileEmpty'],
    ['a newer wheel', writeWheelFile(steel).replace('"version": 1', '"version": 9'), 'fileNewer'],
    ['a broken wheel', writeWheelFile(steel).replace('"spokeCount": 32', '"spokeCount": "many"'), 'fileBroken'],
  ])('refuses %s by its own name', (_, text, problem) => {
    const read = incomingWheels(text);
    expect(!read.ok && read.problem).toBe(problem);
  });
});
