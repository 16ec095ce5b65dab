import { describe, expect, it } from 'vitest';
import type { Ear, EarEvent } from '../../../src/audio/earEvent.ts';
import type { CaptureNews } from '../../../src/audio/edge/captureNews.ts';
import { Hearing, HOLD_OFF_LEAST_S } from '../../../src/audio/edge/hearing.ts';
import { BATCH_FRAMES } from '../../../src/audio/edge/soundBatch.ts';
import { hertz } from '../../../src/units.ts';

const RATE = 48_000;

function listen(byTheClock = false) {
  const pushed: number[] = [];
  const gaps: number[] = [];
  const holds: number[] = [];
  const news: CaptureNews[] = [];
  const events: EarEvent[] = [];
  let ended = false;
  const ear: Ear = {
    push: (samples) => {
      pushed.push(samples.length);
      return [];
    },
    gap: (lost) => {
      gaps.push(lost);
      return [];
    },
    end: () => {
      ended = true;
      return [];
    },
    expect: () => {},
    holdOffUntil: (atS) => holds.push(atS),
  };
  const hearing = new Hearing(
    () => ear,
    { sampleRateHz: hertz(RATE), settings: { sampleRateHz: hertz(RATE) } },
    byTheClock,
    (event) => events.push(event),
    (item) => news.push(item),
  );
  const send = (frame: number, value = 0.01, nowMs = (frame / RATE) * 1e3, length = BATCH_FRAMES) =>
    hearing.take({ kind: 'samples', frame, buffer: new Float32Array(BATCH_FRAMES).fill(value).buffer, length }, nowMs);
  return { hearing, send, pushed, gaps, holds, news, isEnded: () => ended };
}

describe('what stands between the stream and the ear', () => {
  it('passes on only the used part of a batch', () => {
    const { send, pushed } = listen();
    send(0, 0.01, 0, 100);
    expect(pushed).toEqual([100]);
  });

  it('tells the ear and the person how much was lost', () => {
    const { send, gaps, news } = listen();
    for (let i = 0; i < 10; i++) send(i * BATCH_FRAMES);
    send(10 * BATCH_FRAMES + 960);
    expect(gaps).toEqual([960]);
    expect(news).toEqual([{ kind: 'problem', problem: 'samplesLost', detail: '960' }]);
  });

  it('forgives a hole in the first tenth of a second, but keeps the time right', () => {
    const { send, gaps, news } = listen();
    send(0);
    send(BATCH_FRAMES + 1500);
    expect(gaps).toEqual([1500]);
    expect(news).toEqual([]);
  });

  it('starts its time at the first sample, whatever the device counts', () => {
    const { hearing, send, gaps, holds } = listen();
    send(123_456);
    hearing.holdOff(0);
    expect(gaps).toEqual([]);
    expect(holds[0]).toBeLessThan(BATCH_FRAMES / RATE + 1);
  });

  it('holds off for at least 0.3 s, and longer than a long sound', () => {
    const { hearing, send, holds } = listen();
    send(0);
    hearing.holdOff(0.05);
    hearing.holdOff(0.6);
    expect(HOLD_OFF_LEAST_S).toBeGreaterThanOrEqual(0.3);
    expect(holds[0]).toBeGreaterThanOrEqual(BATCH_FRAMES / RATE + 0.3);
    expect(holds[1]).toBeGreaterThan(BATCH_FRAMES / RATE + 0.6);
  });

  it('says that a microphone delivers nothing but zeros, and that it mended', () => {
    const { send, news } = listen(true);
    const batches = Math.ceil((3.2 * RATE) / BATCH_FRAMES);
    for (let i = 0; i < batches; i++) send(i * BATCH_FRAMES, 0);
    expect(news).toEqual([{ kind: 'problem', problem: 'microphoneSilent' }]);
    send(batches * BATCH_FRAMES, 0.001);
    expect(news[1]).toEqual({ kind: 'mended', problem: 'microphoneSilent' });
  });

  it('lets a file be as silent as it is', () => {
    const { send, news } = listen();
    for (let i = 0; i < 200; i++) send(i * BATCH_FRAMES, 0);
    expect(news).toEqual([]);
  });

  it('does not take a quiet room for a dead microphone', () => {
    const { send, news } = listen(true);
    for (let i = 0; i < 200; i++) send(i * BATCH_FRAMES, 2 ** -15);
    expect(news).toEqual([]);
  });

  it('says once that the rate is not the stated one', () => {
    const { send, news } = listen(true);
    for (let i = 0; i < 300; i++) send(i * BATCH_FRAMES, 0.01, ((i * BATCH_FRAMES) / 44_100) * 1e3);
    expect(news.map((item) => item.kind === 'problem' && item.problem)).toEqual(['rateUntrue']);
  });

  it('lets the ear judge what is there when the source ends', () => {
    const { hearing, news, isEnded } = listen();
    hearing.end();
    expect(isEnded()).toBe(true);
    expect(news).toEqual([{ kind: 'ended' }]);
  });
});
