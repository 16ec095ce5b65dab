import { describe, expect, it } from 'vitest';
import { roundSteps } from '../../src/drawing/axis.ts';
import { differencePlot } from '../../src/drawing/differencePlot.ts';
import { explainDrawing } from '../../src/drawing/explainDrawing.ts';
import { helpDrawing } from '../../src/drawing/helpDrawing.ts';
import { placeLabels } from '../../src/drawing/placeLabels.ts';
import { pluckDrawing } from '../../src/drawing/pluckDrawing.ts';
import { spectrumDrawing } from '../../src/drawing/spectrumDrawing.ts';
import type { SpectrumPicture } from '../../src/drawing/spectrumPicture.ts';
import { everyNode, lettering, withClass } from './everyNode.ts';

const spectrum: SpectrumPicture = {
  curve: Array.from({ length: 500 }, (_, i) => ({ frequencyHz: i * 5, levelDb: -60 + (i === 108 ? 60 : 0) })),
  tones: [
    { frequencyHz: 540, mode: 1 },
    { frequencyHz: 1100, mode: 2 },
    { frequencyHz: 800, mode: 0 },
  ],
  predicted: [
    { frequencyHz: 541, mode: 1 },
    { frequencyHz: 1103, mode: 2 },
    { frequencyHz: 1690, mode: 3 },
  ],
};

describe('roundSteps', () => {
  it('divides a range by 1, 2 or 5 times a power of ten, inside the range', () => {
    expect(roundSteps(0, 1000, 5)).toEqual([0, 200, 400, 600, 800, 1000]);
    expect(roundSteps(583, 742, 3)).toEqual([600, 700]);
  });
  it('refuses an empty range', () => {
    expect(() => roundSteps(3, 3, 4)).toThrow(RangeError);
  });
});

describe('spectrumDrawing', () => {
  it('numbers the tones that were used, rings the one that was not, and marks every predicted partial', () => {
    const tree = spectrumDrawing(spectrum, { label: 'spectrum' });
    expect(withClass(tree, 'used')).toHaveLength(2);
    expect(withClass(tree, 'open')).toHaveLength(1);
    expect(withClass(tree, 'hidden')).toHaveLength(3);
  });
  it('lays digital silence on the axis, and a ring above the floor as high as without one', () => {
    const heights = (levelDb: number, floorDb?: number) => {
      const curve = Array.from({ length: 100 }, (_, i) => ({ frequencyHz: 60 * i, levelDb: i === 9 ? levelDb : -200 }));
      const tree = spectrumDrawing(
        { curve, tones: [], predicted: [], ...(floorDb === undefined ? {} : { floorDb }) },
        { label: 'silence', height: 210 },
      );
      const [line] = everyNode(tree).filter((node) => node.name === 'polyline');
      return String(line?.attributes.points)
        .split(' ')
        .map((point) => Number(point.split(',')[1]));
    };
    const silence = heights(-200, -145);
    expect(Math.min(...silence)).toBe(Math.max(...silence));
    expect(Math.max(...silence)).toBeGreaterThan(210 * 0.8);
    expect(heights(-60, -145)).toEqual(heights(-60));
  });
  it('draws an empty sheet, not an error, where nothing was heard', () => {
    expect(spectrumDrawing({ curve: [], tones: [], predicted: [] }, { label: 'none' }).name).toBe('svg');
  });
});

describe('differencePlot', () => {
  it('draws each pair with its number and both limits of agreement', () => {
    const tree = differencePlot(
      {
        unit: 'N',
        pairs: [
          { number: 1, mean: 900, difference: 20 },
          { number: 2, mean: 1000, difference: -15 },
        ],
        meanDifference: 2.5,
        lower: { value: -46, low: -90, high: -2 },
        upper: { value: 51, low: 7, high: 95 },
      },
      { label: 'difference' },
    );
    expect(withClass(tree, 'pair')).toHaveLength(2);
    expect(withClass(tree, 'limit')).toHaveLength(2);
  });
  it.each([-8, -1, 1, 8])('lets no line strike the name of a limit at %d through', (upper) => {
    const tree = differencePlot(
      {
        unit: 'N',
        pairs: [
          { number: 1, mean: 470, difference: -11 },
          { number: 2, mean: 640, difference: -16 },
        ],
        meanDifference: -14,
        lower: { value: -28, low: -32, high: -24 },
        upper: { value: upper, low: upper - 4, high: upper + 4 },
      },
      { label: 'difference' },
    );
    const heights = [...withClass(tree, 'thin'), ...withClass(tree, 'centre')].map((one) => Number(one.attributes.y1));
    expect(heights).toHaveLength(2);
    const names = everyNode(tree).filter((one) => one.children.join('').endsWith('limit of agreement'));
    expect(names).toHaveLength(2);
    for (const name of names) {
      const [base, size] = [Number(name.attributes.y), Number(name.attributes['font-size'])];
      // Ascenders reach to about 0.75 of the size, descenders to 0.2 (from memory).
      for (const at of heights) expect(at < base - 0.75 * size || at > base + 0.2 * size).toBe(true);
    }
  });
  it('lets no number cover another or a point, however close the points lie', () => {
    const frame = { left: 0, right: 400, top: 0, bottom: 280 };
    // Sixteen spokes of an even side: a cloud of 40 by 40.
    const points = Array.from({ length: 16 }, (_, i) => ({
      x: 180 + ((i * 17) % 41),
      y: 120 + ((i * 23) % 37),
      text: `${2 * i + 1}`,
    }));
    const labels = placeLabels(points, frame, 10, 4);
    expect(labels.filter((one) => one === undefined)).toEqual([]);
    const boxes = labels.map((one, i) => {
      const half = ((points[i]?.text.length ?? 0) * 10 * 0.6) / 2;
      const { x, y } = one?.at ?? { x: 0, y: 0 };
      return { x0: x - half, x1: x + half, y0: y - 7.4, y1: y };
    });
    const apart = (a: (typeof boxes)[number], b: (typeof boxes)[number]) =>
      a.x1 <= b.x0 || b.x1 <= a.x0 || a.y1 <= b.y0 || b.y1 <= a.y0;
    for (const [i, box] of boxes.entries()) {
      for (const other of boxes.slice(i + 1)) expect(apart(box, other)).toBe(true);
      for (const { x, y } of points) expect(apart(box, { x0: x - 3, x1: x + 3, y0: y - 3, y1: y + 3 })).toBe(true);
    }
  });
  it('says that no spoke has both readings', () => {
    expect(lettering(differencePlot({ unit: 'N', pairs: [] }, { label: 'none' }))).toEqual([
      'no spoke has both readings yet',
    ]);
  });
});

describe('pluckDrawing', () => {
  it('asks for the crossing to be held only where the spoke touches another', () => {
    const base = { label: 'how', hand: 'right', direction: 'inPlane' } as const;
    expect(lettering(pluckDrawing({ ...base, crossing: 'held' }))).toContain('hold');
    expect(lettering(pluckDrawing({ ...base, crossing: 'none' }))).not.toContain('hold');
  });
  it('keeps its lettering legible on a narrow phone and on the sheet, whichever hand plucks', () => {
    for (const hand of ['right', 'left'] as const)
      for (const crossing of ['held', 'none'] as const)
        for (const direction of ['inPlane', 'across'] as const)
          for (const node of everyNode(pluckDrawing({ label: 'how', hand, crossing, direction })).filter(
            (one) => one.name === 'text',
          )) {
            const size = Number(node.attributes['font-size']);
            // 274 pixels of a sheet of 400 on a phone of 320.
            expect((size * 274) / 400).toBeGreaterThanOrEqual(16);
            const wide = String(node.children[0]).length * size * 0.6;
            const x = Number(node.attributes.x);
            const [left, right] = node.attributes['text-anchor'] === 'end' ? [x - wide, x] : [x, x + wide];
            expect(left).toBeGreaterThanOrEqual(0);
            expect(right).toBeLessThanOrEqual(400);
          }
  });
  it('mirrors the hands for a left-handed person but not the lettering', () => {
    const tree = pluckDrawing({ label: 'how', hand: 'left', crossing: 'held', direction: 'inPlane' });
    const mirrored = tree.children.filter((c) => typeof c !== 'string' && c.attributes.transform !== undefined);
    expect(mirrored).toHaveLength(1);
    expect(mirrored.flatMap((c) => (typeof c === 'string' ? [] : lettering(c)))).toEqual([]);
  });
});

describe('helpDrawing', () => {
  it.each(['hears', 'twoTones', 'plusMinus', 'knownLoad', 'cannotKnow'] as const)(
    'has a drawing for "%s" that says in one sentence what it shows',
    (topic) => {
      const tree = helpDrawing(topic, 'what is shown');
      expect(tree.attributes['aria-label']).toBe('what is shown');
      expect(tree.children.length).toBeGreaterThan(4);
    },
  );
});

describe('explainDrawing', () => {
  it('lists every tone with its mode, and says which were not used', () => {
    const tree = explainDrawing({
      title: 'spoke 7',
      sampleRateHz: 48000,
      samples: Float32Array.from({ length: 9600 }, (_, i) => Math.sin(i / 10)),
      onsetIndex: 2000,
      spectrum,
      tones: [
        { frequencyHz: 540, uHz: 0.1, levelDb: -10, decayS: 0.3, mode: 1, residualPercent: 0.02 },
        { frequencyHz: 800, uHz: 0.3, levelDb: -35, decayS: 0.1, mode: 0 },
      ],
      answer: '1012 N ± 31 N',
    });
    expect(lettering(tree)).toEqual(expect.arrayContaining(['540.00 ± 0.10', 'not used', '1012 N ± 31 N']));
    // Heard 0.02 % above the member’s own: 540/1.0002.
    expect(lettering(tree)).toContain('539.89');
  });
  it('has room for a long refusal: no line is wider than the sheet', () => {
    const answer = 'spoke 7: no tension. The tones do not fit the spoke as the wheel file describes it. '.repeat(3);
    const tree = explainDrawing({
      title: 'a sound',
      sampleRateHz: 48000,
      samples: new Float32Array(4800),
      onsetIndex: 100,
      spectrum: { curve: [], tones: [], predicted: [] },
      tones: [],
      answer,
    });
    const lines = lettering(tree).filter((line) => answer.includes(line) && line.includes(' '));
    expect(lines.join(' ').trim()).toBe(answer.trim());
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(74);
  });
});
