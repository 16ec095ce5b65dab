import { describe, expect, it } from 'vitest';
import { writeWheelFile } from '../../../src/spokes/wheelFile.ts';
import { WHEELS_FORMAT, WHEELS_VERSION, writeWheels } from '../../../src/spokes/wheelsFile.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { incomingWheels } from '../../../src/ui/store/incomingWheels.ts';
import { mergeWheels } from '../../../src/ui/store/mergeWheels.ts';
import { newIdText } from '../../../src/ui/text/newIdText.ts';

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
  it('keeps two wheels of one id both, under the same new id each time, and says so', () => {
    const other = { ...composite, id: steel.id };
    const read = incomingWheels(writeWheels([steel, other]));
    expect(read.ok && read.wheels.map(({ id, name }) => [id, name])).toEqual([
      [steel.id, steel.name],
      [expect.stringMatching(new RegExp(`^${steel.id}-[0-9a-f]{8}$`)), composite.name],
    ]);
    expect(read.ok && read.newIds.map(newIdText)).toEqual([
      expect.stringContaining(`Two wheels that are not the same have the id “${steel.id}”: both are kept`),
    ]);
    expect(incomingWheels(writeWheels([steel, other]))).toEqual(read);
    if (!read.ok) return;
    const once = mergeWheels([], read.wheels).list;
    expect(once).toHaveLength(2);
    expect(mergeWheels(once, read.wheels)).toMatchObject({ list: once, preview: { added: [], merged: [] } });
  });
  it('names the fields that it does not know, and takes the rest', () => {
    const text = writeWheelFile(steel).replace('"targetPercent"', '"targetPerCent": 3, "targetPercent"');
    const read = incomingWheels(text);
    expect(read.ok && [read.wheels.length, ...read.ignored]).toEqual([1, 'wheel.targetPerCent']);
    expect(incomingWheels(writeWheels([steel]))).toMatchObject({ ok: true, ignored: [] });
  });
  it('names rounds with spokes that the wheel does not have, and keeps them', () => {
    const pluck = { spoke: 33, tones: [{ frequencyHz: 400 }] };
    const file = JSON.parse(writeWheelFile(steel)) as { wheel: { rounds: unknown; gauges: unknown } };
    file.wheel.rounds = [{ plucks: [{ ...pluck, spoke: 1 }, pluck, { ...pluck, spoke: 40 }, pluck] }];
    file.wheel.gauges = [{ rounds: [{ readings: [{ spoke: 41, values: [900] }] }] }];
    const read = incomingWheels(JSON.stringify(file));
    expect(read.ok && read.foreign).toEqual(['wheel.rounds.0 (33, 40; 1–32)', 'wheel.gauges.0.rounds.0 (41; 1–32)']);
    expect(read.ok && read.wheels[0]?.rounds[0]?.plucks).toHaveLength(4);
    const all = incomingWheels(writeWheels([steel, composite]));
    expect(all.ok && all.foreign).toEqual([]);
  });
  it.each([
    ['not JSON at all', 'tension;1000', 'fileNotJson'],
    ['a wheel file cut off half-way', writeWheels([steel]).slice(0, 900), 'fileBroken'],
    ['a wheel file without its last brace', writeWheels([steel]).trimEnd().slice(0, -1), 'fileBroken'],
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
