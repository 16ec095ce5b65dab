import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { chooseRounds } from '../../src/desk/chooseRounds.ts';
import { inflate } from '../../src/desk/edge/inflate.ts';
import { hearAgain } from '../../src/desk/hearAgain.ts';
import { openWheel } from '../../src/desk/openWheel.ts';
import { remeasure } from '../../src/desk/remeasure.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { catalogueKind } from '../../src/spokes/catalogue.ts';
import type { ArchivedRecording } from '../../src/spokes/readArchive.ts';
import { readReadings, writeReadings } from '../../src/spokes/readingsFile.ts';
import { readRound } from '../../src/spokes/readRound.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import type { Wheel } from '../../src/spokes/wheel.ts';
import { readWheelFile, writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { writeWheels } from '../../src/spokes/wheelsFile.ts';
import { zipStored } from '../../src/ui/edge/zipStored.ts';
import { simulateRound } from '../signals/round.ts';
import { uniformWheel } from '../signals/uniformWheel.ts';
import { encodeWav } from '../signals/wav.ts';
import { plainWheel } from '../spokes/plainWheel.ts';
import { SIMULATED, simulatedRound } from '../spokes/simulatedRound.ts';

const bytesOf = (text: string) => new TextEncoder().encode(text);
const AT = new Date(2026, 0, 2, 3, 4, 6);
const plain = plainWheel();
const wheel = { ...plain, rounds: [simulatedRound(plain)] };
const [round] = wheel.rounds;
if (!round) throw new Error('no round');
const { readings } = readRound(wheel, round, rememberPrepared(prepareMember));
const handedOut = writeReadings('a test', round.id, readings);
const pack = (files: Readonly<Record<string, string | Uint8Array>>) =>
  zipStored(
    Object.entries(files).map(([name, content]) => ({
      name,
      bytes: typeof content === 'string' ? bytesOf(content) : content,
    })),
    AT,
  );
const archive = pack({ 'wheel.json': writeWheelFile(wheel), 'readings.json': handedOut });

const open = (bytes: Uint8Array) => openWheel('round.zip', bytes, inflate);
async function again(bytes: Uint8Array) {
  const opened = await open(bytes);
  if (!opened.ok) throw new Error(opened.sentence);
  const chosen = chooseRounds(opened.wheel);
  if (!chosen.ok) throw new Error(chosen.detail);
  const [first] = remeasure(opened.wheel, chosen.rounds, opened.stored);
  return { first, warnings: opened.warnings };
}
const change = (text: string, by: (json: { spokes: { tensionN: number }[]; version: number }) => void): string => {
  const json = JSON.parse(text);
  by(json);
  return JSON.stringify(json);
};

describe('an archive at the desk, as it was handed out', () => {
  test('gives its tensions again to 0.01 %, and says how near they came', { timeout: 60_000 }, async () => {
    const { first } = await again(archive);
    expect(first?.spokes).toHaveLength(32);
    expect(first?.stored).toMatchObject({ reproduced: true, by: 'a test', compared: 32, differing: [] });
    expect(first?.stored?.largestDifferencePercent).toBeLessThan(0.01);
  });

  test('with one tension altered by 0.02 % is found out, by spoke and figure; by 0.005 % it is not', {
    timeout: 60_000,
  }, async () => {
    const altered = (percent: number) =>
      pack({
        'wheel.json': writeWheelFile(wheel),
        'readings.json': change(handedOut, ({ spokes }) => {
          const seventh = spokes[6];
          if (seventh) seventh.tensionN *= 1 + percent / 100;
        }),
      });
    const { first } = await again(altered(0.02));
    expect(first?.stored).toMatchObject({ reproduced: false, compared: 32 });
    expect(first?.stored?.differing.map(({ spoke }) => spoke)).toEqual([7]);
    expect((await again(altered(0.005))).first?.stored?.reproduced).toBe(true);
  });

  test('packed into a folder it is read all the same', { timeout: 60_000 }, async () => {
    const { first } = await again(pack({ 'out/wheel.json': writeWheelFile(wheel), 'out/readings.json': handedOut }));
    expect(first?.stored?.reproduced).toBe(true);
  });

  test('cut off anywhere it is refused in words, and nothing is read from it', async () => {
    for (const share of [0.1, 0.5, 0.9, 0.999]) {
      const opened = await open(archive.slice(0, Math.floor(share * archive.length)));
      expect(opened).toMatchObject({ ok: false, sentence: expect.stringMatching(/is cut off .*Copy it again/) });
    }
  });

  test('with a damaged file it is refused by that file’s name', async () => {
    const spoiled = archive.slice();
    spoiled[60] = (spoiled[60] ?? 0) ^ 1;
    expect(await open(spoiled)).toMatchObject({
      ok: false,
      sentence: expect.stringContaining('wheel.json does not fit'),
    });
  });

  test.each([
    [
      'of a newer wheel file',
      { 'wheel.json': '{"format":"ringtrue-wheel","version":9,"wheel":{}}' },
      /newer version \(9 > 1\)/,
    ],
    ['of something else', { 'notes.txt': 'hello' }, /holds no wheel\.json.*notes\.txt/],
    [
      'of two wheels, each in its folder',
      { 'a/wheel.json': writeWheelFile(plain), 'b/wheel.json': writeWheelFile(plain) },
      /several files of wheels: a\/wheel\.json, b\/wheel\.json\. Unpack it/,
    ],
    ['of a device without a wheel', { 'wheels.json': writeWheels([]) }, /holds no wheel\. Name another file/],
    ['with a foreign wheel.json', { 'wheel.json': '{"a":1}' }, /no wheel file/],
    ['with half a wheel.json', { 'wheel.json': writeWheelFile(plain).slice(0, 900) }, /no JSON, or cut off/],
  ] as const)('one %s is refused with a sentence', async (_, files, sentence) => {
    expect(await open(pack(files))).toMatchObject({ ok: false, sentence: expect.stringMatching(sentence) });
  });

  test('a spoke whose scale and dimensions do not agree is asked about', async () => {
    const kind = { ...catalogueKind('plain-2.0'), weighed: { massG: 7.8, uG: 0.02, lengthMm: 292 } };
    const heavy = await open(pack({ 'wheel.json': writeWheelFile(plainWheel({}, {}, kind)) }));
    // 301 mm with bent end and head, at 24.82 g/m: 7.47 g.
    expect(heavy.ok && heavy.warnings).toEqual([
      expect.stringMatching(/the wire of plain 2\.0 is 4\.4 % heavier .*lengths/),
    ]);
    const right = { ...kind, weighed: { ...kind.weighed, massG: 7.47 } };
    const fits = await open(pack({ 'wheel.json': writeWheelFile(plainWheel({}, {}, right)) }));
    expect(fits.ok && fits.warnings).toEqual([]);
  });

  test('readings of a newer version are not compared, and the wheel is still computed', {
    timeout: 60_000,
  }, async () => {
    const newer = change(handedOut, (json) => {
      json.version = 2;
    });
    const { first, warnings } = await again(pack({ 'wheel.json': writeWheelFile(wheel), 'readings.json': newer }));
    expect(first?.stored).toBeUndefined();
    expect(first?.spokes).toHaveLength(32);
    expect(warnings.join()).toMatch(/newer version \(2 > 1\)/);
  });

  test('figures that are no tensions are no readings', () => {
    const wrong = change(handedOut, ({ spokes }) => {
      if (spokes[0]) spokes[0].tensionN = -1;
    });
    expect(readReadings(wrong)).toMatchObject({ ok: false, reason: 'broken' });
    expect(readReadings('{')).toMatchObject({ ok: false, reason: 'notJson' });
    expect(readReadings('{"format":"x"}')).toMatchObject({ ok: false, reason: 'notReadings' });
  });

  test('a round is named by count, by id, by day or as the last', () => {
    const second = { ...round, id: 'later', startedAt: '2026-02-03T08:00:00Z' };
    const two = { ...wheel, rounds: [round, second] };
    const chosen = (name?: string) => {
      const result = chooseRounds(two, name);
      return result.ok ? result.rounds.map(({ number }) => number) : result.detail;
    };
    expect([chosen(), chosen('1'), chosen('last'), chosen('later'), chosen('2026-02-03')]).toEqual([
      [1, 2],
      [1],
      [2],
      [2],
      [2],
    ]);
    expect(chosen('7')).toBe('1 (2026-01-01T00:00:00Z), 2 (2026-02-03T08:00:00Z)');
  });
});

describe('a file of many wheels at the desk', () => {
  const front = { ...plain, id: 'f', name: 'Front' };
  const rear = { ...plain, id: 'r', name: 'Rear, 32' };
  const twin = { ...plain, id: 't', name: 'front ' };
  const which = async (wheels: readonly Wheel[], name?: string, packed = false) => {
    const text = writeWheels(wheels);
    const opened = await openWheel('all', packed ? pack({ 'wheels.json': text }) : bytesOf(text), inflate, name);
    return opened.ok ? opened.wheel.id : opened.sentence;
  };

  test('is taken where it holds one, or where one is named by count, name or id, packed or not', async () => {
    for (const packed of [false, true]) {
      expect(await which([rear], undefined, packed)).toBe('r');
      expect(await which([front, rear], '2', packed)).toBe('r');
      expect(await which([front, rear], 'rear, 32', packed)).toBe('r');
      expect(await which([front, rear], 'f', packed)).toBe('f');
    }
  });

  test('without a name, or with one that fits none or two, tells which wheels are there and how to name one', async () => {
    expect(await which([front, rear])).toBe(
      'all holds several wheels: 1 (Front), 2 (Rear, 32). Say which one is meant by its count or its name: --which 1.',
    );
    expect(await which([front, rear], 'side')).toMatch(
      /no wheel side\. There is: 1 \(Front\), 2 \(Rear, 32\)\. Say which/,
    );
    expect(await which([front, rear, twin], 'Front')).toMatch(/several wheels: 1 .*, 3 \(front \)/);
  });

  test('of which one wheel is broken is refused with that wheel’s place, and a newer one by its version', async () => {
    const broken = JSON.parse(writeWheels([front, rear]));
    broken.wheels[1].wheel.layout.spokeCount = 'many';
    const sentence = (json: unknown) => openWheel('all', bytesOf(JSON.stringify(json)), inflate, '1');
    expect(await sentence(broken)).toMatchObject({
      ok: false,
      sentence: expect.stringContaining('wheels.1.wheel.layout.spokeCount: wrongType'),
    });
    expect(await sentence({ ...broken, version: 2 })).toMatchObject({
      ok: false,
      sentence: expect.stringMatching(/newer version \(2 > 1\)\. Nothing was read/),
    });
  });
});

describe('the recordings of an archive', () => {
  test('heard again give the tensions of their spokes', { timeout: 60_000 }, () => {
    const spokes = uniformWheel({
      seed: 'archive',
      spokeCount: 8,
      leftN: 700,
      rightN: 1000,
      supportLengthM: { left: 0.288, right: 0.286 },
      crossingFromHubM: { left: 0.07, right: 0.068 },
    });
    const material = { name: 'wire', modulusGPa: 193, densityKgM3: 7900, uModulusPercent: 3, expansionPerK: 17e-6 };
    const read = readWheelFile({
      format: 'ringtrue-wheel',
      wheel: {
        layout: {
          kind: 'list',
          spokes: spokes.map(({ side, pieces, crossingFromHubM }) => ({
            side,
            supportLengthMm: 1000 * pieces.reduce((sum, piece) => sum + piece.lengthM, 0),
            crossingFromHubMm: 1000 * (crossingFromHubM as number),
          })),
        },
        kinds: {
          wire: {
            sections: [
              { name: 'wire', lengthMm: 'rest', layers: [{ shape: { form: 'round', diameterMm: 2 }, material }] },
            ],
          },
        },
        sides: { left: { kindId: 'wire', nipple: 'internal' }, right: { kindId: 'wire', nipple: 'internal' } },
      },
    });
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const recordings = [3, 6].map((spoke): ArchivedRecording => {
      const { samples, sampleRateHz } = simulateRound({
        seed: `archive${spoke}`,
        spokes,
        style: 'single',
        snrDb: 25,
        pauseBetweenSpokesS: 2.5,
        rateHz: 44100,
        only: [spoke],
        plucksPerSpoke: 1,
      });
      return {
        name: `round-1/spoke-0${spoke}-1.wav`,
        round: 1,
        spoke,
        bytes: encodeWav([samples], sampleRateHz, 'int16'),
      };
    });
    const stored = { ...round, plucks: [] };
    const heard = hearAgain({ ...read.wheel, rounds: [stored] }, { number: 1, round: stored }, recordings, []);
    expect(heard.spokes.map(({ spoke, ok }) => [spoke, ok])).toEqual([
      [3, true],
      [6, true],
    ]);
    for (const { spoke, tensionN = 0, uOwnN = 0, uCommonN = 0 } of heard.spokes) {
      const truth = spokes[spoke - 1]?.tensionN as number;
      // Three standard uncertainties: one spoke in 370 by chance.
      expect(Math.abs(tensionN - truth)).toBeLessThan(3 * Math.hypot(uOwnN, uCommonN));
    }
  });
});

describe('a wheel of which only the sides are known, at the desk', () => {
  test('gives each settled spoke beside its side’s mean, as near to the truth as it says, and no tension', () => {
    const sides = SIMULATED.truth.map((_, i) => (i % 2 === 0 ? 'right' : 'left') as 'right' | 'left');
    const { sides: _, ...bare } = wheel;
    const half = round.plucks.filter(({ spoke, id }) => spoke !== 7 || id.endsWith('-1'));
    const plucks = half.filter(({ spoke }) => spoke !== 8);
    const even = { ...bare, layout: { kind: 'evenness', sides } as const, rounds: [{ ...round, plucks }] };
    const [again] = remeasure(even, [{ number: 1, round: { ...round, plucks } }], {
      by: 'a test',
      roundId: round.id,
      spokes: [{ spoke: 1, reason: 'memberIncomplete' }],
    });
    expect(again?.stored).toBeUndefined();
    expect(again?.spokes).toHaveLength(31);
    for (const { spoke, side, ok, reason, tensionN, deviationPercent = 0, uDeviationPercent = 0 } of again?.spokes ??
      []) {
      expect(tensionN).toBeUndefined();
      if (spoke === 7) expect([ok, reason]).toEqual([false, 'notSettled']);
      if (!ok) continue;
      const own = SIMULATED.truth.filter((_, i) => sides[i] === side && i !== 6 && i !== 7);
      const mean = own.reduce((sum, one) => sum + one, 0) / own.length;
      const deviation = 100 * ((SIMULATED.truth[spoke - 1] ?? 0) / mean - 1);
      expect(Math.abs(deviationPercent - deviation), `spoke ${spoke}`).toBeLessThan(3 * uDeviationPercent);
    }
  });
});

describe('known tensions at the desk', () => {
  const load = { loadN: 970, uLoadN: 10, method: 'gauge' };
  const own = { id: 'own', kind: 'inWheel', spoke: 1, ...load } as const;
  const loose = { id: 'loose', kind: 'spare', ...load, kindId: 'plain-2.0', supportLengthMm: 280 } as const;
  const taught = (calibrations: Wheel['calibrations']) => {
    const [first] = remeasure({ ...wheel, calibrations }, [{ number: 1, round }]);
    return first;
  };

  test('stand beside what each side taught, with what became of them', { timeout: 60_000 }, () => {
    const before = taught([]);
    const after = taught([own, loose, { ...own, id: 'gone', spoke: 99 }]);
    expect(before?.calibrations).toEqual([]);
    expect(after?.groups.map(({ group }) => group).sort()).toEqual(['left plain-2.0', 'right plain-2.0']);
    // Spoke 1 is on the right, and so is spoke 3: what the side shares is better known with one tension known.
    const shared = (one: typeof after) => one?.spokes.find(({ spoke }) => spoke === 3)?.uCommonN ?? 0;
    expect(shared(after)).toBeLessThan(shared(before));
    for (const { degreesOfFreedom, contradiction } of after?.groups ?? []) {
      expect(degreesOfFreedom).toBeGreaterThan(20);
      expect(contradiction).toBe(false);
    }
    expect(after?.calibrations).toMatchObject([
      { id: 'own', ok: true, groups: ['right plain-2.0'], loadN: 970 },
      { id: 'loose', ok: false, reason: 'noPluck', advice: expect.stringMatching(/no pluck under its load/) },
      { id: 'gone', ok: false, reason: 'noSuchSpoke', advice: expect.stringMatching(/no such spoke/) },
    ]);
  });

  test('that contradict the description are called out for their side alone', { timeout: 60_000 }, () => {
    const wrong = taught([{ ...own, loadN: 1400, uLoadN: 14 }]);
    for (const { group, contradiction, advice } of wrong?.groups ?? []) {
      expect(contradiction).toBe(group.startsWith('right'));
      expect(advice ?? '').toMatch(contradiction ? /contradict each other.*believe neither/ : /^$/);
    }
  });
});

describe('the command', () => {
  const folder = mkdtempSync(join(tmpdir(), 'ringtrue-desk-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const run = (...args: readonly string[]) =>
    spawnSync(process.execPath, ['--import', 'tsx', 'src/desk/edge/main.ts', 'measure', ...args], { encoding: 'utf8' });
  const file = (name: string, content: Uint8Array) => {
    writeFileSync(join(folder, name), content);
    return join(folder, name);
  };

  test('takes the archive alone, prints what it found, and ends with 0, 1 or 2', { timeout: 120_000 }, () => {
    const good = run(file('good.zip', archive));
    expect(good.stderr).toMatch(/round 1: all 32 tensions handed out come out again/);
    expect(good.status).toBe(0);
    expect(JSON.parse(good.stdout).rounds[0]).toMatchObject({ number: 1, stored: { reproduced: true } });

    const altered = change(handedOut, ({ spokes }) => {
      if (spokes[0]) spokes[0].tensionN += 1;
    });
    const other = run(
      '--archive',
      file('other.zip', pack({ 'wheel.json': writeWheelFile(wheel), 'readings.json': altered })),
    );
    expect(other.status).toBe(1);
    expect(other.stderr).toMatch(/spoke 1: handed out as .* N, computed again .* N/);

    const known = { id: 'k', kind: 'inWheel', spoke: 1, loadN: 1400, uLoadN: 14, method: 'gauge' } as const;
    const contradicted = run(
      '--wheel',
      file('known.json', bytesOf(writeWheelFile({ ...wheel, calibrations: [known] }))),
    );
    expect(contradicted.status).toBe(1);
    expect(contradicted.stderr).toMatch(/right plain-2\.0: A known tension and the description contradict each other/);

    const many = file('all.json', bytesOf(writeWheels([plain, wheel])));
    expect(run(many, '--which', '2').status).toBe(0);
    expect(run(many)).toMatchObject({ status: 2, stdout: '', stderr: expect.stringMatching(/several wheels/) });

    const newer = change(handedOut, (json) => {
      json.version = 2;
    });
    const unread = run(file('newer.zip', pack({ 'wheel.json': writeWheelFile(wheel), 'readings.json': newer })));
    expect(unread.stderr).toMatch(/newer version \(2 > 1\), so the tensions in it are not compared/);
    expect(unread.stderr).not.toMatch(/No tensions were handed out/);
    const bare = run(file('bare.zip', pack({ 'wheel.json': writeWheelFile(wheel) })));
    expect(bare.stderr).toMatch(/No tensions were handed out in this archive/);

    const [heard] = wheel.rounds;
    const rounds = heard ? [{ ...heard, plucks: heard.plucks.map((one) => ({ ...one, putAside: true })) }] : [];
    const none = run(file('none.json', bytesOf(writeWheelFile({ ...wheel, rounds }))));
    expect(none.status).toBe(1);
    expect(none.stderr).toMatch(/round 1: no pluck of it counts/);

    const vast = file('vast.json', bytesOf('{}'));
    truncateSync(vast, 100_000_000);
    const refused = run(vast);
    expect([refused.status, refused.stdout]).toEqual([2, '']);
    expect(refused.stderr).toMatch(/vast\.json has 100 MB, and no more than 64 MB are read/);

    const cut = run(file('cut.zip', archive.slice(0, 2000)));
    expect([cut.status, cut.stdout]).toEqual([2, '']);
    expect(cut.stderr).toMatch(/is cut off/);
    expect(run(join(folder, 'good.zip'), '--round', '9').stderr).toMatch(/holds no round 9; there is: 1 \(2026/);
    expect(run(join(folder, 'good.zip'), '--hear-again').stderr).toMatch(/holds no recordings/);
  });

  test('of recordings that cannot be read tells each file once, and no spoke that it was not in', {
    timeout: 60_000,
  }, () => {
    const unread = run(
      '--wheel',
      file('w.json', bytesOf(writeWheelFile(plain))),
      file('text.wav', bytesOf('no sound')),
    );
    expect(unread.status).toBe(1);
    expect(unread.stderr.trim().split('\n')).toEqual([expect.stringMatching(/text\.wav: .*no WAV file/)]);
  });

  test('asked for help prints every option and ends well; an option that it does not know is named, with the usage', {
    timeout: 60_000,
  }, () => {
    for (const asked of [['--help'], ['-h'], ['--wheel', 'none.json', '--help']]) {
      const helped = run(...asked);
      expect([helped.status, helped.stderr]).toEqual([0, '']);
      for (const option of ['--wheel', '--archive', '--which', '--round', '--direction', '--explain'])
        expect(helped.stdout).toContain(option);
    }
    const unknown = run('--directon', 'across');
    expect([unknown.status, unknown.stdout]).toEqual([2, '']);
    expect(unknown.stderr).toMatch(/^Unknown option '--directon'\n\nnpm run/);
  });
});
