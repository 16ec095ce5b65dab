import { describe, expect, it } from 'vitest';
import { createEar } from '../../../src/audio/createEar.ts';
import type { EarEvent } from '../../../src/audio/earEvent.ts';
import { describeMember } from '../../../src/spokes/describeMember.ts';
import { demoSound, patientHand } from '../../../src/ui/edge/demoSound.ts';
import { demoVoices } from '../../../src/ui/edge/demoVoices.ts';
import { DEMO_RATE_HZ, type DemoWheel, demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { hertz } from '../../../src/units.ts';

type Answer = Extract<EarEvent, { kind: 'heard' }>;

/** Lets the demo's hand pluck these spokes, each once, and gives the ear's answers. */
function hearDemo(demo: DemoWheel, spokes: readonly number[], seed = 1): Answer[] {
  const ear = createEar({
    sampleRateHz: hertz(DEMO_RATE_HZ),
    settings: { sampleRateHz: hertz(DEMO_RATE_HZ) },
  });
  const waiting = [...spokes];
  const answers: Answer[] = [];
  let heardS = 0;
  const hand = patientHand(
    () => waiting.shift(),
    () => heardS,
  );
  const sound = demoSound(demo, hand.ask, seed);
  const block = new Float32Array(2048);
  while (heardS < 2 + 1.6 * spokes.length) {
    sound.next(block);
    heardS += block.length / DEMO_RATE_HZ;
    for (const event of ear.push(block))
      if (event.kind === 'heard') {
        answers.push(event);
        hand.answered();
      }
  }
  return answers;
}

describe('the demo’s sound goes through the same ear', () => {
  const demo = demoWheel('steelRear');
  const spokes = [1, 2, 12, 20, 27];
  const answers = hearDemo(demo, spokes);

  it('is heard once for every pluck, and taken', () => {
    expect(answers.map(({ heard }) => (heard.ok ? 'taken' : heard.reason))).toEqual(spokes.map(() => 'taken'));
  });

  it('has the exact model’s lowest tone among the tones heard, within what its ends scatter', () => {
    answers.forEach(({ heard }, index) => {
      const spoke = spokes[index] ?? 0;
      const member = describeMember(demo.wheel, spoke);
      if (!member.ok || !heard.ok) throw new Error('expected a described, heard spoke');
      // Ends scatter by a few percent around 9 and 14 N·m/rad: the lowest tone moves by less than 1.5 %.
      const lowest = Math.min(
        ...demoVoices(member.described.member, demo.tensionsN[spoke - 1] ?? 0, 9, 14, 0.5)
          .filter((voice) => voice.amplitude > 0.3)
          .map((voice) => voice.frequencyHz),
      );
      const nearest = Math.min(...heard.tones.map((tone) => Math.abs(tone.frequencyHz / lowest - 1)));
      expect(nearest).toBeLessThan(0.015);
    });
  });

  it('gives the same samples for the same seed, and others for another', () => {
    const take = (seed: number) => {
      const into = new Float32Array(88_200);
      demoSound(demo, () => 1, seed).next(into);
      return into;
    };
    expect(take(3)).toEqual(take(3));
    expect(take(3)).not.toEqual(take(4));
  });

  it('stays below full scale', () => {
    const sound = demoSound(demo, () => 12, 5);
    const block = new Float32Array(2048);
    let peak = 0;
    for (let i = 0; i < 200; i++) {
      sound.next(block);
      for (const sample of block) peak = Math.max(peak, Math.abs(sample));
    }
    expect(peak).toBeLessThan(0.9);
    expect(peak).toBeGreaterThan(0.05);
  });
});

describe('the demo’s hand', () => {
  it('waits for the ear’s answer before the next pluck, but not for ever', () => {
    let now = 0;
    const hand = patientHand(
      () => 7,
      () => now,
    );
    expect(hand.ask()).toBe(7);
    expect(hand.ask()).toBe(undefined);
    hand.answered();
    expect(hand.ask()).toBe(7);
    now = 3.1;
    expect(hand.ask()).toBe(7);
  });
});

describe('the voices of a demo spoke', () => {
  it('holds most of its sound in the part outside the crossing', () => {
    const demo = demoWheel('steelRear');
    const member = describeMember(demo.wheel, 1);
    if (!member.ok) throw new Error('expected a described spoke');
    const voices = demoVoices(member.described.member, 550, 9, 14, 0.5);
    const loudest = voices.reduce((best, voice) => (voice.amplitude > best.amplitude ? voice : best));
    const lowest = voices.reduce((low, voice) => (voice.frequencyHz < low.frequencyHz ? voice : low));
    expect(Math.abs(loudest.frequencyHz / lowest.frequencyHz - 1)).toBeLessThan(0.05);
  });
});
