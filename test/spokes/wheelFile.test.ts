import Ajv from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/spokes/catalogue.ts';
import { checkWheel } from '../../src/spokes/checkWheel.ts';
import { MATERIALS } from '../../src/spokes/materials.ts';
import { NIPPLES } from '../../src/spokes/nipples.ts';
import type { Wheel } from '../../src/spokes/wheel.ts';
import { readWheelFile, writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { kindRows, materialRows } from './catalogueTables.ts';
import { plainWheel } from './plainWheel.ts';
import { wheelFileExamples, wheelFileSchemaText, wheelFileText } from './wheelFileExamples.ts';

const wheelOf = (json: unknown): Wheel => {
  const read = readWheelFile(json);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.wheel;
};
const said = (json: unknown): string[] => {
  const read = readWheelFile(json);
  return read.ok ? ['ok'] : read.problems.map((problem) => `${problem.reason} ${problem.path}`);
};
const matchesSchema = new Ajv({ strict: false }).compile(JSON.parse(wheelFileSchemaText()));
const examples = wheelFileExamples();

describe('the written description of the wheel file', () => {
  it('has examples', () => expect(examples.length).toBeGreaterThanOrEqual(5));

  it.each(examples)('example under "$heading" is read, matches the schema and describes every spoke', ({ text }) => {
    const read = readWheelFile(text);
    expect(read.ok ? read.ignored : read.problems).toEqual([]);
    expect(matchesSchema(JSON.parse(text)), JSON.stringify(matchesSchema.errors)).toBe(true);
    const wheel = wheelOf(text);
    expect(checkWheel(wheel).map((one) => one.reason)).toEqual(
      wheel.layout.kind === 'evenness' ? ['evennessOnly'] : [],
    );
  });

  it('gives the figures of every material and every kind of the catalogue', () => {
    for (const row of [...materialRows(), ...kindRows()]) expect(wheelFileText().replace(/ +/g, ' ')).toContain(row);
  });

  it('names every catalogue kind, material and nipple', () => {
    const words = wheelFileText();
    for (const name of [...CATALOGUE.map((kind) => kind.id), ...Object.keys(MATERIALS), ...Object.keys(NIPPLES)])
      expect(words).toContain(`\`${name}\``);
  });
});

describe('rounds, gauges and calibrations of one id', () => {
  it('stay two: the second is named by what it holds, and the same each time, and it is said', () => {
    const { layout, sides } = plainWheel();
    const file = {
      format: 'ringtrue-wheel',
      wheel: {
        layout,
        sides,
        rounds: [
          { id: 'a', plucks: [{ spoke: 1, tones: [{ frequencyHz: 400 }] }] },
          { id: 'b' },
          { id: 'a' },
          { id: 'a' },
        ],
        gauges: [
          {
            id: 'g',
            rounds: [
              { id: 'r', readings: [] },
              { id: 'r', readings: [] },
            ],
          },
          { id: 'g' },
        ],
      },
    };
    const wheel = wheelOf(file);
    const named = (id: string) => expect.stringMatching(new RegExp(`^${id}-[0-9a-f]{8}(-2)?$`));
    expect(wheel.rounds.map(({ id }) => id)).toEqual(['a', 'b', named('a'), named('a')]);
    expect(wheel.rounds.map(({ plucks }) => plucks.length)).toEqual([1, 0, 0, 0]);
    expect(new Set(wheel.rounds.map(({ id }) => id)).size).toBe(4);
    expect(wheel.gauges?.map(({ id, rounds }) => [id, ...rounds.map((one) => one.id)])).toEqual([
      ['g', 'r', named('r')],
      [named('g')],
    ]);
    const read = readWheelFile(file);
    expect(read.ok && read.newIds.map(({ what, was }) => `${what} ${was}`)).toEqual([
      'gaugeRound r',
      'gauge g',
      'round a',
      'round a',
    ]);
    expect(wheelOf(writeWheelFile(wheel))).toEqual(wheel);
    expect(wheelOf(file).rounds).toEqual(wheel.rounds);
  });
});

/** Every place of a JSON value, as a path. */
function places(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [path];
  const inner = Object.entries(value).flatMap(([key, one]) =>
    places(one, [...path, Array.isArray(value) ? Number(key) : key]),
  );
  return [path, ...inner];
}
function changed(json: unknown, path: readonly (string | number)[], to: unknown): unknown {
  const copy = structuredClone(json) as Record<string | number, unknown>;
  const last = path.at(-1);
  if (last === undefined) return to;
  let at = copy;
  for (const key of path.slice(0, -1)) at = at[key] as Record<string | number, unknown>;
  if (to !== undefined) at[last] = to;
  else if (Array.isArray(at)) at.splice(Number(last), 1);
  else delete at[last];
  return copy;
}

describe('the gate and the schema', () => {
  it('agree on every example with any one place taken out or replaced', () => {
    const parsed = examples.map((example) => JSON.parse(example.text) as unknown);
    const full = parsed.map((one) => JSON.parse(writeWheelFile(wheelOf(one))) as unknown);
    const junk = fc.oneof(
      fc.constant(undefined),
      fc.constantFrom('left', 'rest', 'brass', 'round', '', -1, 0, 2.5, 1e9, true, [], {}, 'a'.repeat(5000)),
      fc.constant(null),
    );
    fc.assert(
      fc.property(fc.constantFrom(...parsed, ...full), fc.nat(), junk, (json, seed, to) => {
        const all = places(json);
        const path = all[seed % all.length] ?? [];
        const file = changed(json, path, to);
        const read = readWheelFile(file);
        // Which kinds a file may name the schema cannot know, nor which of two limits is the larger.
        fc.pre(
          read.ok || !read.problems.some(({ reason }) => reason === 'unknownKind' || reason === 'limitsContradict'),
        );
        expect(read.ok, `${path.join('.')} ← ${JSON.stringify(to)} ${JSON.stringify(read)}`.slice(0, 400)).toBe(
          matchesSchema(file),
        );
      }),
      { numRuns: 2000 },
    );
  });
});

describe('what the gate lets in', () => {
  it('survives any JSON and any text, and never lets a wheel in that cannot be written again', () => {
    fc.assert(
      fc.property(fc.oneof(fc.json(), fc.string(), fc.jsonValue()), (input) => {
        const read = readWheelFile(input);
        expect(read.ok ? [] : read.problems.length).toBeTruthy();
      }),
    );
    fc.assert(
      fc.property(fc.jsonValue(), (wheel) => {
        const read = readWheelFile({ format: 'ringtrue-wheel', version: 1, wheel });
        if (read.ok) writeWheelFile(read.wheel);
      }),
    );
  });

  it('is not moved by keys that reach into the language', () => {
    const hostile = JSON.parse(
      '{"format":"ringtrue-wheel","version":1,"wheel":{"__proto__":{"x":1},"constructor":{},"kinds":{"__proto__":{"sections":[]}},"layout":{"kind":"evenness","sides":["left","right","left","right"]}}}',
    );
    const wheel = wheelOf(hostile);
    expect(Object.getPrototypeOf(wheel)).toBe(Object.prototype);
    expect(Object.getPrototypeOf(wheel.kinds)).toBe(Object.prototype);
    expect(({} as { x?: number }).x).toBeUndefined();
    const named = structuredClone(JSON.parse(examples[0]?.text ?? '')) as {
      wheel: { sides: { left: { kindId: string } } };
    };
    named.wheel.sides.left.kindId = 'constructor';
    expect(said(named)).toEqual(['unknownKind wheel.sides.left.kindId']);
  });

  it('is the same after writing and reading, to the last byte', () => {
    for (const wheel of [plainWheel(), ...examples.map((example) => wheelOf(example.text))]) {
      const text = writeWheelFile(wheel);
      expect(wheelOf(text)).toEqual(wheel);
      expect(writeWheelFile(wheelOf(text))).toBe(text);
    }
  });

  it('keeps how sure the borders of the sections are, and adds no such figure to a file without it', () => {
    const stated = plainWheel({}, { uncertainty: { lengthMm: 0.5, sectionsMm: 0.4 } });
    const text = writeWheelFile(stated);
    expect(matchesSchema(JSON.parse(text)), JSON.stringify(matchesSchema.errors)).toBe(true);
    expect(wheelOf(text).sides?.right.uncertainty).toEqual({ lengthMm: 0.5, sectionsMm: 0.4 });
    expect(writeWheelFile(wheelOf(text))).toBe(text);
    const older = text.replace(/,\s*"sectionsMm": 0\.4/g, '');
    expect(writeWheelFile(wheelOf(older))).toBe(older);
    expect(wheelOf(older).sides?.right.uncertainty).toEqual({ lengthMm: 0.5 });
  });

  it('has the same id each time a file without one is read', () => {
    const [first, , third] = examples;
    expect(wheelOf(first?.text).id).toBe(wheelOf(first?.text).id);
    expect(wheelOf(first?.text).id).not.toBe(wheelOf(third?.text).id);
  });

  it('takes a byte order mark, and the kind given in the side itself', () => {
    const text = examples[0]?.text ?? '';
    expect(wheelOf(`\uFEFF${text}`).kinds['plain-2.0']?.name).toBe('plain 2.0');
    const inline = JSON.parse(text);
    inline.wheel.sides.left = {
      kind: { sections: [{ layers: [{ shape: { form: 'round', diameterMm: 2 }, material: 'titanium 6Al-4V' }] }] },
    };
    expect(wheelOf(inline).sides?.left.kindId).toBe('left spokes');
    expect(checkWheel(wheelOf(inline))).toEqual([]);
  });
});

describe('what the gate refuses', () => {
  const file = (change: object) => ({ ...JSON.parse(examples[0]?.text ?? ''), ...change });
  it.each([
    ['{"format": "ringtrue-wheel", "wheel"', ['notJson ']],
    [{ format: 'another' }, ['notAWheelFile format']],
    [[], ['notAWheelFile format']],
    [file({ version: 2 }), ['newerVersion version']],
    [file({ version: 'one' }), ['wrongType version']],
    [file({ wheel: undefined }), ['missing wheel']],
    [file({ wheel: { layout: { kind: 'knitted' } } }), ['unknownWord wheel.layout.kind']],
    [
      file({ wheel: { layout: { kind: 'evenness', sides: ['left', 'middle'] } } }),
      ['unknownWord wheel.layout.sides.1'],
    ],
    [
      file({
        wheel: { layout: { kind: 'list', spokes: [{ side: 'left' }, { side: 'right', supportLengthMm: '290' }] } },
      }),
      ['missing wheel.layout.spokes.0.supportLengthMm', 'wrongType wheel.layout.spokes.1.supportLengthMm'],
    ],
  ])('by name and place: %j', (json, expected) => expect(said(json)).toEqual(expected));

  it('a figure that is not finite: 1e999 is no length', () => {
    const text = (examples[0]?.text ?? '').replace('281.5', '1e999');
    expect(said(text)).toEqual(['outOfRange wheel.layout.spokes.0.supportLengthMm']);
  });

  it('a catalogue name that does not exist, saying which do', () => {
    const json = JSON.parse(examples[0]?.text ?? '');
    json.wheel.sides.left.nipple = 'copper';
    json.wheel.sides.right.kindId = 'plain-9';
    const read = readWheelFile(json);
    expect(read.ok ? [] : read.problems.map((p) => p.reason)).toEqual(['unknownNipple', 'unknownKind']);
    expect(read.ok ? '' : read.problems[0]?.detail).toContain('brass 12 mm');
  });

  it('a minimum above its maximum, naming both figures', () => {
    const json = JSON.parse(examples[0]?.text ?? '');
    json.wheel.sides.left.limits = { minimumN: 1200, maximumN: 1000 };
    const read = readWheelFile(json);
    expect(read.ok ? [] : read.problems).toEqual([
      { path: 'wheel.sides.left.limits.minimumN', reason: 'limitsContradict', detail: '1200 N > 1000 N' },
    ]);
    json.wheel.sides.left.limits = { minimumN: 1000, maximumN: 1000 };
    expect(readWheelFile(json).ok).toBe(true);
  });

  it('nothing for a field that it does not know, but says so', () => {
    const json = JSON.parse(examples[0]?.text ?? '');
    json.wheel.layout.spokes[3].crossingFromHub = 70;
    json.wheel.sides.left.comment = 'mine';
    const read = readWheelFile(json);
    expect(read.ok && read.ignored.map((one) => one.path)).toEqual([
      'wheel.layout.spokes.3.crossingFromHub',
      'wheel.sides.left.comment',
    ]);
  });

  it('to write a wheel that could not be read back', () => {
    expect(() => writeWheelFile(plainWheel({ targetPercent: Number.NaN }))).toThrow('wheel.targetPercent');
  });
});
