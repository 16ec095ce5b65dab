import { describe, expect, test } from 'vitest';
import { measure } from '../../src/desk/measure.ts';
import { remeasure } from '../../src/desk/remeasure.ts';
import { readWheelFile } from '../../src/spokes/wheelFile.ts';
import { blade } from '../signals/catalogue.ts';
import { nonSpoke } from '../signals/nonSpokes.ts';
import { seededRandom } from '../signals/random.ts';
import { simulateRound } from '../signals/round.ts';
import { uniformWheel } from '../signals/uniformWheel.ts';
import { encodeWav } from '../signals/wav.ts';

// The truth comes from the independent finite elements of test/signals.
const SPOKES = uniformWheel({
  seed: 'desk',
  spokeCount: 8,
  leftN: 700,
  rightN: 1000,
  supportLengthM: { left: 0.288, right: 0.286 },
  crossingFromHubM: { left: 0.07, right: 0.068 },
  set: { 4: 1310 },
});
const round = (overrides: Partial<Parameters<typeof simulateRound>[0]> = {}) =>
  simulateRound({
    seed: 'desk',
    spokes: SPOKES,
    style: 'single',
    snrDb: 25,
    pauseBetweenSpokesS: 2.5,
    rateHz: 44100,
    ...overrides,
  });
const wav = (made: ReturnType<typeof round>, format: 'int16' | 'int24' | 'float32' = 'int16') =>
  encodeWav([made.samples], made.sampleRateHz, format);

const wire = { name: 'wire', modulusGPa: 193, densityKgM3: 7900, uModulusPercent: 3, expansionPerK: 17e-6 };
const limits = { maximumN: 1200, unit: 'N', source: 'an invented maker', state: { tyre: 'off' } };
const side = { kindId: 'wire', nipple: 'internal', limits };
const read = readWheelFile({
  format: 'ringtrue-wheel',
  version: 1,
  wheel: {
    name: 'Eight spokes',
    layout: {
      kind: 'list',
      spokes: SPOKES.map((spoke) => ({
        side: spoke.side,
        supportLengthMm: 1000 * spoke.pieces.reduce((sum, piece) => sum + piece.lengthM, 0),
        crossingFromHubMm: 1000 * (spoke.crossingFromHubM as number),
      })),
    },
    kinds: {
      wire: {
        name: 'wire',
        sections: [
          { name: 'wire', lengthMm: 'rest', layers: [{ shape: { form: 'round', diameterMm: 2 }, material: wire }] },
        ],
      },
    },
    sides: { left: side, right: side },
    state: { tyre: 'off' },
  },
});
if (!read.ok) throw new Error(JSON.stringify(read.problems));
const { wheel } = read;
const options = { direction: 'inPlane' } as const;

describe('measuring recordings at the desk', () => {
  test('a recorded round gives every spoke its own tension, inside its stated interval', { timeout: 60_000 }, () => {
    const { recordings, spokes } = measure(wheel, [{ name: 'round.wav', bytes: wav(round()) }], {
      ...options,
      crediting: { by: 'round' },
    });
    expect(recordings[0]).toMatchObject({ file: 'round.wav', ok: true, sampleRateHz: 44100 });
    expect(recordings[0]?.plucks).toHaveLength(16);
    expect(spokes.map(({ ok }) => ok)).toEqual(Array(8).fill(true));
    for (const { spoke, tensionN, uOwnN, uCommonN, expandedN } of spokes) {
      expect(expandedN).toBeCloseTo(2 * Math.hypot(uOwnN as number, uCommonN as number), 9);
      const truth = SPOKES[spoke - 1]?.tensionN as number;
      // Three standard uncertainties: one spoke in 370 by chance.
      expect(Math.abs((tensionN as number) - truth)).toBeLessThan(3 * Math.hypot(uOwnN as number, uCommonN as number));
    }
    expect(spokes[3]?.verdict).toMatch(/over/i);
    expect(spokes.filter(({ verdict }) => /over/i.test(verdict ?? '')).map(({ spoke }) => spoke)).toEqual([4]);
  });

  test('--spoke credits everything to one spoke, whatever the format of the file', { timeout: 60_000 }, () => {
    const made = round({ only: [2] });
    const tensions = (['int16', 'int24', 'float32'] as const).map((format) => {
      const { spokes } = measure(wheel, [{ name: `${format}.wav`, bytes: wav(made, format) }], {
        ...options,
        crediting: { by: 'spoke', spoke: 2 },
      });
      expect(spokes).toHaveLength(1);
      return spokes[0]?.tensionN as number;
    });
    const [coarse, fine, float] = tensions as [number, number, number];
    // 16 bits lie 70 dB below this sound: under a tenth of its noise.
    const percent = (n: number) => (100 * Math.abs(n)) / fine;
    expect(percent(coarse - fine)).toBeLessThan(0.1);
    expect(percent(float - fine)).toBeLessThan(0.01);
  });

  test('a round with a spoke left out is refused, and its plucks are still shown', { timeout: 60_000 }, () => {
    const bytes = wav(round({ missedPluckAt: [5], only: [1, 2, 3, 4, 6, 7, 8] }));
    const { recordings, spokes } = measure(wheel, [{ name: 'short.wav', bytes }], {
      ...options,
      crediting: { by: 'round' },
    });
    expect(recordings[0]?.ok).toBe(false);
    expect(recordings[0]?.plucks.length).toBeGreaterThan(7);
    expect(spokes.every(({ ok }) => !ok)).toBe(true);
  });

  test('a broken file is refused by name and the rest is still measured', { timeout: 60_000 }, () => {
    const { recordings, spokes } = measure(
      wheel,
      [
        { name: 'broken.wav', bytes: new Uint8Array([1, 2, 3]) },
        { name: 'gone.wav', problem: 'no such file' },
        { name: 'good.wav', bytes: wav(round({ only: [2] })) },
      ],
      { ...options, crediting: { by: 'spoke', spoke: 2 } },
    );
    expect(recordings.map(({ file, ok }) => [file, ok])).toEqual([
      ['broken.wav', false],
      ['gone.wav', false],
      ['good.wav', true],
    ]);
    expect(spokes[0]?.ok).toBe(true);
  });

  test('a spoke in the cue list that did not sound is told, and one that was cut short is told so', {
    timeout: 60_000,
  }, () => {
    const made = round({ only: [2] });
    const cues = [
      { timeS: 0, spoke: 2 },
      { timeS: 9, spoke: 5 },
    ];
    const silent = measure(wheel, [{ name: 'cued.wav', bytes: wav(made) }], {
      ...options,
      crediting: { by: 'cues', cues },
    });
    expect(silent.spokes.map(({ spoke, ok, reason }) => [spoke, ok, reason])).toEqual([
      [2, true, undefined],
      [5, false, 'notHeard'],
    ]);
    const onsetS = silent.recordings[0]?.plucks[0]?.onsetS ?? Number.NaN;
    const samples = made.samples.slice(0, Math.round((onsetS + 0.08) * made.sampleRateHz));
    const cut = measure(wheel, [{ name: 'cut.wav', bytes: wav({ ...made, samples }) }], {
      ...options,
      crediting: { by: 'spoke', spoke: 2 },
    });
    expect(cut.spokes).toMatchObject([
      { spoke: 2, ok: false, reason: 'cutShort', advice: expect.stringMatching(/two seconds/) },
    ]);
    const even: typeof wheel = { ...wheel, layout: { kind: 'evenness', sides: SPOKES.map((spoke) => spoke.side) } };
    const relative = measure(even, [{ name: 'cut.wav', bytes: wav({ ...made, samples }) }], {
      ...options,
      crediting: { by: 'spoke', spoke: 2 },
    });
    expect(relative.spokes).toMatchObject([{ spoke: 2, ok: false, reason: 'cutShort' }]);
  });

  test('a spoke passed over and the first heard in the last one’s place come out at the count, and are refused by the sides’ tones', {
    timeout: 60_000,
  }, () => {
    const parts = [[1, 2], [4, 5, 6, 7, 8], [1]].map((only) => round({ only, plucksPerSpoke: 1 }).samples);
    const slipped = encodeWav([Float32Array.from(parts.flatMap((part) => [...part]))], 44100, 'int16');
    const crediting = { by: 'round' } as const;
    const { recordings, spokes } = measure(wheel, [{ name: 'slipped.wav', bytes: slipped }], { ...options, crediting });
    expect(recordings[0]).toMatchObject({
      ok: false,
      reason: 'placesSlipped',
      advice: expect.stringMatching(/--cues/),
    });
    expect(spokes.some(({ ok }) => ok)).toBe(false);
    const whole = [1, 2, 3, 4, 5, 6, 7, 8].map((spoke) => round({ only: [spoke], plucksPerSpoke: 1 }).samples);
    const inPlace = encodeWav([Float32Array.from(whole.flatMap((part) => [...part]))], 44100, 'int16');
    const right = measure(wheel, [{ name: 'right.wav', bytes: inPlace }], { ...options, crediting });
    expect(right.recordings[0]?.ok).toBe(true);
  });

  test('a recording most of whose sounds are no plucks gives no tension', { timeout: 60_000 }, () => {
    const knocks = Array.from({ length: 6 }, (_, i) => nonSpoke('knock', seededRandom(`knock${i}`), 44100).samples);
    const pluck = round({ only: [2], plucksPerSpoke: 1 }).samples;
    const samples = Float32Array.from([...knocks.flatMap((knock) => [...knock]), ...pluck]);
    const { spokes } = measure(wheel, [{ name: 'knocks.wav', bytes: encodeWav([samples], 44100, 'int16') }], {
      ...options,
      crediting: { by: 'spoke', spoke: 2 },
    });
    expect(spokes[0]).toMatchObject({ spoke: 2, ok: false });
  });

  test('a sampling rate too low for a spoke is refused with what would be right', () => {
    const bytes = encodeWav([new Float32Array(8000)], 8000, 'int16');
    const { recordings } = measure(wheel, [{ name: 'low.wav', bytes }], {
      ...options,
      crediting: { by: 'spoke', spoke: 2 },
    });
    expect(recordings[0]).toMatchObject({ ok: false, reason: 'rateUnsupported' });
  });

  test('the rounds of a wheel file are computed again without a recording', { timeout: 60_000 }, () => {
    const bytes = wav(round({ only: [1, 2] }));
    const { recordings } = measure(wheel, [{ name: 'two.wav', bytes }], {
      ...options,
      crediting: { by: 'from', from: 1 },
    });
    const plucks = (recordings[0]?.plucks ?? []).map((pluck, i) => ({
      id: `p${i}`,
      at: '2026-01-01T00:00:00Z',
      spoke: pluck.spoke as number,
      how: { crossing: 'held' as const, direction: 'inPlane' as const },
      tones: pluck.tones,
      covarianceHz2: pluck.tones.map((a) => pluck.tones.map((b) => (a === b ? a.uHz ** 2 : 0))),
      hypotheses: [],
      flags: [],
    }));
    const stored = {
      id: 'stored',
      startedAt: '2026-01-01T00:00:00Z',
      how: { crossing: 'held' as const, direction: 'inPlane' as const },
      state: wheel.state,
      order: 'byPlace' as const,
      plucksToSettle: 2,
      plucks,
      skipped: [],
    };
    const [again] = remeasure({ ...wheel, rounds: [stored] }, [{ number: 1, round: stored }]);
    expect(again?.spokes.map(({ spoke, ok }) => [spoke, ok])).toEqual([
      [1, true],
      [2, true],
    ]);
  });
});

describe('how recorded spokes are taken to have been plucked', () => {
  // Uncrossed blades on the left, crossed ones on the right. The simulation rings in one plane only: on the left its two stiffnesses are
  // exchanged, so that the blade is heard across the wheel.
  const mixed = SPOKES.map((spoke) => {
    const lengthM = spoke.pieces.reduce((sum, piece) => sum + piece.lengthM, 0);
    const piece = blade(2.2, 0.9, 'steel', lengthM, 1);
    if (spoke.side === 'right') return { ...spoke, pieces: [piece] };
    const { crossingFromHubM: _, ...uncrossed } = spoke;
    return {
      ...uncrossed,
      pieces: [{ ...piece, bendingInPlane: piece.bendingAcross, bendingAcross: piece.bendingInPlane }],
    };
  });
  const blades = {
    ...wheel,
    layout: {
      kind: 'list' as const,
      spokes: mixed.map(({ side: at, pieces, ...spoke }) => ({
        side: at,
        supportLengthMm: 1000 * pieces.reduce((sum, { lengthM }) => sum + lengthM, 0),
        ...('crossingFromHubM' in spoke && { crossingFromHubMm: 1000 * (spoke.crossingFromHubM as number) }),
      })),
    },
    kinds: {
      wire: {
        id: 'wire',
        name: 'blade',
        source: '',
        sections: [
          {
            name: 'blade',
            lengthMm: 'rest' as const,
            layers: [{ shape: { form: 'flat' as const, widthMm: 2.2, thicknessMm: 0.9 }, material: wire }],
          },
        ],
      },
    },
  };
  const bytes = wav(round({ spokes: mixed, only: [1, 2] }));
  const heard = (more: Partial<Parameters<typeof measure>[2]> = {}) =>
    measure(blades, [{ name: 'two.wav', bytes }], { crediting: { by: 'from', from: 1 }, ...more });
  const hows = ({ recordings }: ReturnType<typeof heard>) =>
    recordings.flatMap(({ plucks }) => plucks.map(({ spoke, how }) => [spoke, how?.crossing, how?.direction]));

  test('is what the app asks for, spoke by spoke: an uncrossed blade across the wheel, a crossed one along the rim', {
    timeout: 60_000,
  }, () => {
    const measured = heard();
    expect(hows(measured)).toEqual([
      [1, 'none', 'across'],
      [1, 'none', 'across'],
      [2, 'held', 'inPlane'],
      [2, 'held', 'inPlane'],
    ]);
    for (const { spoke, tensionN = 0, uOwnN = 0, uCommonN = 0 } of measured.spokes) {
      const truth = mixed[spoke - 1]?.tensionN as number;
      // Three standard uncertainties: one spoke in 370 by chance.
      expect(Math.abs(tensionN - truth)).toBeLessThan(3 * Math.hypot(uOwnN, uCommonN));
    }
  });

  test('is what the command line says, of every spoke, and what was recorded of a spoke comes before both', {
    timeout: 60_000,
  }, () => {
    expect(new Set(hows(heard({ direction: 'inPlane' })).map(([, , direction]) => direction))).toEqual(
      new Set(['inPlane']),
    );
    const recorded = new Map([[1, { crossing: 'none', direction: 'unknown' } as const]]);
    expect(hows(heard({ direction: 'across', plucked: recorded })).map(([, , direction]) => direction)).toEqual([
      'unknown',
      'unknown',
      'across',
      'across',
    ]);
  });
});
