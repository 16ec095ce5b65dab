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

/** One sheet for one pluck: waveform, spectrum with the tones taken, a line for each tone, each tone's decay as fitted, and the answer. */
export function explainDrawing(picture: ExplainPicture): SvgNode {
  const wave = 150;
  const spectrum = 260;
  const table = 60 + picture.tones.length * ROW;
  const decay = 180;
  const height = 40 + wave + spectrum + table + decay + 40;
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
    text({ x: 16, y: height - 16 }, picture.answer, 'letter strong', 'start', 18),
  );
}

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
  const columns = [16, 110, 260, 380, 500, 640];
  const row = (cells: readonly string[], y: number, strong: boolean) =>
    cells.map((cell, i) => text({ x: columns[i] ?? 0, y }, cell, strong ? 'letter strong' : 'letter', 'start', 14));
  return group(
    'tones',
    ...row(['mode', 'frequency, Hz', 'level, dB', 'decay, ms', 'residual, %'], 24, true),
    ...picture.tones.flatMap((tone, i) =>
      row(
        [
          tone.mode > 0 ? String(tone.mode) : 'not used',
          `${tone.frequencyHz.toFixed(2)} ± ${tone.uHz.toFixed(2)}`,
          tone.levelDb.toFixed(0),
          (tone.decayS * 1000).toFixed(0),
          tone.residualPercent === undefined ? '–' : tone.residualPercent.toFixed(2),
        ],
        24 + ROW * (i + 1),
        false,
      ),
    ),
  );
}

/** Each tone's level after the onset, as its fitted decay has it: straight lines in decibels. */
function decays(picture: ExplainPicture, height: number): SvgNode[] {
  if (picture.tones.length === 0) return [];
  const durationS = 1;
  const top = Math.max(...picture.tones.map((tone) => tone.levelDb));
  const x = scale(0, durationS, 60, WIDTH - 60);
  const y = (levelDb: number) => scale(top - 60, top, height - 24, 10)(Math.max(top - 60, levelDb));
  const dbPerNeper = 20 * Math.LOG10E;
  return [
    line({ x: 60, y: height - 24 }, { x: WIDTH - 60, y: height - 24 }, 'outline'),
    ...roundSteps(0, durationS, 5).map((v) =>
      text({ x: x(v), y: height - 6 }, `${v.toFixed(1)} s`, 'letter', 'middle', 13),
    ),
    text({ x: 16, y: 18 }, 'dB', 'letter', 'start', 13),
    ...picture.tones.flatMap((tone) => {
      const endS = Math.min(durationS, ((60 + tone.levelDb - top) * tone.decayS) / dbPerNeper);
      if (endS <= 0) return [];
      const end = { x: x(endS), y: y(tone.levelDb - (endS / tone.decayS) * dbPerNeper) };
      return [
        line({ x: x(0), y: y(tone.levelDb) }, end, tone.mode > 0 ? 'outline' : 'hidden'),
        text({ x: x(0) - 6, y: y(tone.levelDb) + 4 }, tone.mode > 0 ? String(tone.mode) : '–', 'letter', 'end', 13),
      ];
    }),
  ];
}
