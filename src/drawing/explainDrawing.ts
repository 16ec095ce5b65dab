import { roundSteps, scale } from './axis.ts';
import { group, line, polyline, sheet, text } from './shapes.ts';
import { spectrumDrawing } from './spectrumDrawing.ts';
import type { SpectrumPicture } from './spectrumPicture.ts';
import { element, type SvgNode } from './svg.ts';

/** Everything that one pluck's answer stands on. */
export interface ExplainPicture {
  readonly title: string;
  readonly sampleRateHz: number;
  /** Samples, full scale ±1, and where the onset and the judged window lie in them. */
  readonly samples: ArrayLike<number>;
  readonly onsetIndex: number;
  readonly spectrum: SpectrumPicture;
  readonly tones: readonly {
    readonly frequencyHz: number;
    readonly uHz: number;
    readonly levelDb: number;
    readonly decayS: number;
    readonly mode: number;
    readonly residualPercent?: number;
  }[];
  /** Answer or refusal in words. */
  readonly answer: string;
}

const WIDTH = 800;
const ROW = 22;
const ANSWER_ROW = 24;
/** Of the answer, in a line of the sheet. */
const CHARACTERS = 74;

/** One sheet for one pluck: waveform, spectrum with the tones taken, a line for each tone, each tone's decay as fitted, and the answer. */
export function explainDrawing(picture: ExplainPicture): SvgNode {
  const wave = 150;
  const spectrum = 260;
  const table = 100 + picture.tones.length * ROW;
  const decay = 200;
  const answer = wrap(picture.answer, CHARACTERS);
  const height = 40 + wave + spectrum + table + decay + 24 + ANSWER_ROW * answer.length;
  let y = 40;
  const place = (tall: number, ...children: Parameters<typeof element>[2][]): SvgNode => {
    const at = y;
    y += tall;
    return element('g', { transform: `translate(0 ${at})` }, ...children);
  };
  const label = `${picture.title}: ${picture.answer}`;
  return sheet(
    WIDTH,
    height,
    label,
    element('rect', { x: 0, y: 0, width: WIDTH, height, class: 'paper' }),
    text({ x: 16, y: 26 }, picture.title, 'letter strong', 'start', 20),
    place(wave, waveform(picture, wave)),
    place(
      spectrum,
      spectrumDrawing(picture.spectrum, { label: 'spectrum', width: WIDTH, height: spectrum - 10 }).children,
    ),
    place(table, toneTable(picture)),
    place(decay, decays(picture, decay)),
    answer.map((line, i) =>
      text({ x: 16, y: height - 16 - ANSWER_ROW * (answer.length - 1 - i) }, line, 'letter strong', 'start', 18),
    ),
  );
}

/** Words in lines of at most so many characters. */
function wrap(words: string, most: number): readonly string[] {
  const lines: string[] = [];
  for (const word of words.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

const signed = (value: number, digits: number): string => value.toFixed(digits).replace('-', '−');

function waveform(picture: ExplainPicture, height: number): SvgNode[] {
  const count = picture.samples.length;
  const middle = height / 2;
  const columns = WIDTH - 32;
  const x = scale(0, Math.max(1, count - 1), 16, WIDTH - 16);
  let most = 1e-9;
  for (let i = 0; i < count; i++) most = Math.max(most, Math.abs(picture.samples[i] ?? 0));
  const points = [];
  for (let c = 0; c < columns; c++) {
    const from = Math.floor((c * count) / columns);
    const to = Math.max(from + 1, Math.floor(((c + 1) * count) / columns));
    let low = Infinity;
    let high = -Infinity;
    for (let i = from; i < to && i < count; i++) {
      const value = picture.samples[i] ?? 0;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    if (high < low) continue;
    points.push(
      { x: 16 + c, y: middle - (high / most) * (middle - 14) },
      { x: 16 + c, y: middle - (low / most) * (middle - 14) },
    );
  }
  const onset = x(picture.onsetIndex);
  return [
    line({ x: 16, y: middle }, { x: WIDTH - 16, y: middle }, 'thin'),
    polyline(points, 'thin'),
    line({ x: onset, y: 6 }, { x: onset, y: height - 6 }, 'hidden'),
    text({ x: onset + 4, y: 16 }, 'onset', 'letter', 'start', 13),
    text({ x: WIDTH - 16, y: height - 4 }, `${(count / picture.sampleRateHz).toFixed(2)} s`, 'letter', 'end', 13),
  ];
}

function toneTable(picture: ExplainPicture): SvgNode {
  const columns = [16, 100, 250, 400, 510, 610];
  const row = (cells: readonly string[], y: number, className: string) =>
    cells.map((cell, i) => text({ x: columns[i] ?? 0, y }, cell, className, 'start', 14));
  const head = ['mode', 'heard ± u, Hz', 'member’s, Hz', 'residual, %', 'level, dB', 'decay to 1/e, ms'];
  const notes = [
    'Disc: taken for that mode; ring: heard, not used; broken line: the member’s tone at the answer’s tension.',
    'u: standard uncertainty; level: of full scale.',
  ];
  return group(
    'tones',
    ...notes.map((note, i) => text({ x: 16, y: 12 + 17 * i }, note, 'letter', 'start', 13)),
    ...row(head, 58, 'letter strong'),
    ...picture.tones.flatMap(({ mode, frequencyHz, uHz, levelDb, decayS, residualPercent }, i) =>
      row(
        [
          mode > 0 ? String(mode) : 'not used',
          `${frequencyHz.toFixed(2)} ± ${uHz.toFixed(2)}`,
          residualPercent === undefined ? '–' : (frequencyHz / (1 + residualPercent / 100)).toFixed(2),
          residualPercent === undefined ? '–' : signed(residualPercent, 2),
          signed(levelDb, 0),
          (decayS * 1000).toFixed(0),
        ],
        58 + ROW * (i + 1),
        'letter',
      ),
    ),
  );
}

/** Each tone's level after the onset, as its fitted decay has it: straight lines in decibels. */
function decays(picture: ExplainPicture, height: number): SvgNode[] {
  if (picture.tones.length === 0) return [];
  const durationS = 1;
  const top = Math.max(...picture.tones.map((tone) => tone.levelDb));
  const x = scale(0, durationS, 60, WIDTH - 64);
  const y = (levelDb: number) => scale(top - 60, top, height - 24, 10)(Math.max(top - 60, levelDb));
  const dbPerNeper = 20 * Math.LOG10E;
  const labels = apart(
    picture.tones.map((tone) => y(tone.levelDb) + 4),
    13,
  );
  return [
    line({ x: 60, y: height - 24 }, { x: WIDTH - 60, y: height - 24 }, 'outline'),
    ...roundSteps(0, durationS, 5).map((v) =>
      text({ x: x(v), y: height - 6 }, `${v.toFixed(1)} s`, 'letter', 'middle', 13),
    ),
    ...roundSteps(top - 60, top, 3).flatMap((v) => [
      line({ x: WIDTH - 60, y: y(v) }, { x: WIDTH - 54, y: y(v) }, 'thin'),
      text({ x: WIDTH - 50, y: y(v) + 4 }, `${signed(v, 0)} dB`, 'letter', 'start', 12),
    ]),
    ...picture.tones.flatMap((tone, i) => {
      const endS = Math.min(durationS, ((60 + tone.levelDb - top) * tone.decayS) / dbPerNeper);
      if (endS <= 0) return [];
      const end = { x: x(endS), y: y(tone.levelDb - (endS / tone.decayS) * dbPerNeper) };
      return [
        line({ x: x(0), y: y(tone.levelDb) }, end, tone.mode > 0 ? 'outline' : 'hidden'),
        text({ x: x(0) - 8, y: labels[i] ?? 0 }, tone.mode > 0 ? String(tone.mode) : '–', 'letter', 'end', 13),
      ];
    }),
  ];
}

/** Heights moved down just so far that none lies nearer to the next than `least`; in the order given. */
function apart(heights: readonly number[], least: number): readonly number[] {
  const placed = [...heights];
  const order = heights.map((_, i) => i).toSorted((a, b) => (heights[a] ?? 0) - (heights[b] ?? 0));
  for (const [at, i] of order.entries()) {
    const before = order[at - 1];
    if (before !== undefined) placed[i] = Math.max(placed[i] ?? 0, (placed[before] ?? 0) + least);
  }
  return placed;
}
