import { describe, expect, it } from 'vitest';
import type { EarEvent } from '../../../src/audio/earEvent.ts';
import type { CaptureNews } from '../../../src/audio/edge/captureNews.ts';
import { createApp, type RunningApp } from '../../../src/ui/store/createApp.ts';
import type { ListenHandlers } from '../../../src/ui/store/ports.ts';
import { hertz } from '../../../src/units.ts';
import { handPluck, handRefusal } from './handPluck.ts';
import { EMPTY_SHELF, type Simulated, simulatedPorts, until } from './simulatedPorts.ts';

const HELD = { crossing: 'held', direction: 'inPlane' } as const;

interface Bench {
  readonly app: RunningApp;
  readonly simulated: Simulated;
  readonly wheelId: string;
  readonly hear: (event: EarEvent) => void;
  readonly news: (news: CaptureNews) => void;
  readonly closed: () => number;
  readonly openings: () => number;
}

/** The steel demo wheel with a microphone in our hand. */
async function bench(start = true): Promise<Bench> {
  const simulated = simulatedPorts();
  let handlers: ListenHandlers | undefined;
  let closed = 0;
  let openings = 0;
  simulated.microphone = (given) => {
    openings++;
    handlers = given;
    return Promise.resolve({
      ok: true,
      listening: {
        kind: 'microphone',
        settings: { sampleRateHz: hertz(48_000), echoCancellation: false },
        expect: (expected) => simulated.expectations.push(expected),
        holdOff: (durationS) => simulated.holdOffs.push(durationS),
        close: () => closed++,
      },
    });
  };
  const app = createApp(simulated.ports, EMPTY_SHELF);
  const wheelId = app.actions.openDemo('steelRear');
  if (start) app.actions.startRound({ how: HELD });
  await app.actions.listenToMicrophone();
  return {
    app,
    simulated,
    wheelId,
    hear: (event) => handlers?.onEar(event),
    news: (item) => handlers?.onNews(item),
    closed: () => closed,
    openings: () => openings,
  };
}
const roundOf = ({ app }: Bench) => {
  const { round } = app.store.getState();
  if (!round) throw new Error('no round');
  return round;
};
const codes = ({ app }: Bench) => app.store.getState().messages.map((message) => message.code);

describe('two plucks that agree settle a spoke', () => {
  it('and the walk moves on by itself, the round is on the shelf, the ear expects the next spoke', async () => {
    const b = await bench();
    b.hear(handPluck([300, 640]));
    expect(roundOf(b).spoke).toBe(1);
    expect(roundOf(b).agreeing).toBe(1);
    b.hear(handPluck([300.2, 640.3], 3));
    expect(roundOf(b)).toMatchObject({ spoke: 2, settled: [1], nextSpoke: 3 });
    expect(b.app.store.getState().wheels.list[0]?.rounds[0]?.plucks).toHaveLength(2);
    await b.app.measured();
    expect(b.simulated.expectations.length).toBeGreaterThan(0);
    expect(b.simulated.signals).toEqual(['taken', 'settled']);
  });

  it('tells the ear to be deaf while the app itself sounds', async () => {
    const b = await bench();
    b.hear(handPluck([300, 640]));
    expect(b.simulated.holdOffs).toEqual([0.1]);
  });

  it('a third that differs from both is kept but settles nothing', async () => {
    const b = await bench();
    b.hear(handPluck([300, 640]));
    b.hear(handPluck([330, 700], 3));
    expect(roundOf(b)).toMatchObject({ spoke: 1, settled: [] });
    expect(roundOf(b).last).toMatchObject({ taken: true, settledNow: false });
    expect(b.simulated.signals).toEqual(['taken', 'refused']);
  });
});

describe('a sound that is no pluck', () => {
  it('is told with its reason, and credited to nobody', async () => {
    const b = await bench();
    b.hear(handRefusal('twoSpokes'));
    expect(roundOf(b).last).toMatchObject({ taken: false, why: 'twoSpokes', spoke: 1 });
    expect(roundOf(b).round.plucks).toEqual([]);
    expect(b.simulated.signals).toEqual(['refused']);
  });
  it('of the room is shown without an answering sound, so that a radio does not make the app beep', async () => {
    const b = await bench();
    b.hear(handRefusal('music'));
    expect(roundOf(b).last).toMatchObject({ why: 'music' });
    expect(b.simulated.signals).toEqual([]);
  });
});

describe('pausing', () => {
  it('a pluck while paused does not count', async () => {
    const b = await bench();
    b.app.actions.pauseRound();
    b.hear(handPluck([300, 640]));
    expect(roundOf(b).round.plucks).toEqual([]);
    expect(b.simulated.signals).toEqual([]);
    b.app.actions.continueRound();
    b.hear(handPluck([300, 640]));
    expect(roundOf(b).round.plucks).toHaveLength(1);
  });
});

describe('stepping by hand', () => {
  it('back, skip, jump and repeat stand where they should', async () => {
    const b = await bench();
    b.app.actions.skipSpoke();
    expect(roundOf(b)).toMatchObject({ spoke: 2, skipped: [1] });
    b.app.actions.goBack();
    expect(roundOf(b).spoke).toBe(1);
    b.app.actions.jumpTo(20);
    expect(roundOf(b)).toMatchObject({ spoke: 20, side: 'right' });
    b.hear(handPluck([300, 640]));
    b.app.actions.repeatSpoke();
    expect(roundOf(b)).toMatchObject({ spoke: 20, agreeing: 0 });
    expect(roundOf(b).round.plucks[0]?.putAside).toBe(true);
  });

  it('moving all after a spoke moves what was heard, and nothing is lost', async () => {
    const b = await bench();
    for (const f of [300, 400, 310]) for (const onset of [1, 3]) b.hear(handPluck([f, f * 2.13], onset));
    expect(roundOf(b).settled).toEqual([1, 2, 3]);
    b.app.actions.moveAllAfter(1, 'forward');
    expect(roundOf(b).settled).toEqual([1, 3, 4]);
    expect(roundOf(b).round.plucks).toHaveLength(6);
  });

  it('putting a pluck aside opens its spoke again, taking it back settles it', async () => {
    const b = await bench();
    b.hear(handPluck([300, 640]));
    b.hear(handPluck([300, 640], 3));
    const [pluck] = roundOf(b).round.plucks;
    b.app.actions.putAside(pluck?.id ?? '');
    expect(roundOf(b).settled).toEqual([]);
    b.app.actions.takeBack(pluck?.id ?? '');
    expect(roundOf(b).settled).toEqual([1]);
  });

  it('typed tones count like heard ones', async () => {
    const b = await bench();
    b.app.actions.typeTones(5, [hertz(640), hertz(300)]);
    b.app.actions.typeTones(5, [hertz(300), hertz(640)]);
    expect(roundOf(b).settled).toEqual([5]);
    expect(roundOf(b).round.plucks[0]?.tones.map((tone) => tone.frequencyHz)).toEqual([300, 640]);
  });
});

describe('the microphone', () => {
  it('refused: a sentence, no listening, and the round stands', async () => {
    const b = await bench();
    b.hear(handPluck([300, 640]));
    b.simulated.microphone = () => Promise.resolve({ ok: false, problem: 'microphoneRefused' });
    await b.app.actions.listenToMicrophone();
    expect(codes(b)).toContain('microphoneRefused');
    expect(b.app.store.getState().listening.status).toBe('failed');
    expect(roundOf(b).round.plucks).toHaveLength(1);
  });
  it('taken away in mid-round: told with the way on, everything closed, and what it says afterwards is not heard', async () => {
    const b = await bench();
    b.news({ kind: 'problem', problem: 'microphoneEnded' });
    expect(b.app.store.getState().messages.at(-1)).toMatchObject({ code: 'microphoneEnded', offer: 'listenAgain' });
    expect(b.app.store.getState().listening).toMatchObject({ status: 'failed', source: undefined });
    expect(b.closed()).toBe(1);
    b.hear(handPluck([300, 640]));
    expect(roundOf(b).round.plucks).toEqual([]);
    await b.app.actions.listenToMicrophone();
    expect(codes(b)).not.toContain('microphoneEnded');
  });
  it('muted and unmuted: the warning comes and goes', async () => {
    const b = await bench();
    b.news({ kind: 'problem', problem: 'microphoneMuted' });
    expect(codes(b)).toContain('microphoneMuted');
    expect(b.app.store.getState().listening.status).toBe('interrupted');
    b.news({ kind: 'mended', problem: 'microphoneMuted' });
    expect(codes(b)).not.toContain('microphoneMuted');
    expect(b.app.store.getState().listening.status).toBe('on');
  });
  it('muted by a call that interrupts the sound too: it is not said to listen before both are over', async () => {
    const b = await bench();
    b.news({ kind: 'problem', problem: 'microphoneMuted' });
    b.news({ kind: 'problem', problem: 'soundInterrupted' });
    b.news({ kind: 'mended', problem: 'soundInterrupted' });
    expect(b.app.store.getState().listening.status).toBe('interrupted');
    b.news({ kind: 'mended', problem: 'microphoneMuted' });
    expect(b.app.store.getState().listening.status).toBe('on');
  });
  it('a headset that was refused is not spoken of any more once the next start succeeds', async () => {
    const b = await bench();
    const good = b.simulated.microphone;
    b.simulated.microphone = () => Promise.resolve({ ok: false, problem: 'microphoneBluetooth', detail: 'Headset' });
    await b.app.actions.listenToMicrophone();
    expect(codes(b)).toContain('microphoneBluetooth');
    b.simulated.microphone = good;
    await b.app.actions.listenToMicrophone();
    expect(codes(b)).not.toContain('microphoneBluetooth');
  });
  it('at an untrue rate: nothing more is believed', async () => {
    const b = await bench();
    b.news({ kind: 'problem', problem: 'rateUntrue', detail: '44100' });
    expect(b.app.store.getState().listening.status).toBe('failed');
  });
  it('frozen after a while in the background: opened anew, the walk goes on', async () => {
    const b = await bench();
    b.news({ kind: 'rebuild' });
    await until(b.app, ({ listening }) => listening.status === 'on');
    expect(b.openings()).toBe(2);
    expect(b.closed()).toBe(1);
  });
  it('opened twice in a hurry: one ear only', async () => {
    const b = await bench();
    await Promise.all([b.app.actions.listenToMicrophone(), b.app.actions.listenToMicrophone()]);
    expect(b.openings() - b.closed()).toBe(1);
  });
  it('holds the screen awake while it listens, and lets go', async () => {
    const b = await bench();
    b.app.actions.stopListening();
    expect(b.simulated.wake.filter((call) => call === 'hold')).toHaveLength(1);
    expect(b.simulated.wake.at(-1)).toBe('release');
  });
});

describe('after the page was closed in mid-round', () => {
  it('the round waits, paused, at the very spoke, and goes on with the first tap', async () => {
    const before = await bench();
    before.hear(handPluck([300, 640]));
    before.hear(handPluck([300, 640], 3));
    before.app.actions.jumpTo(9);
    const kept = before.app.store.getState();
    const after = createApp(simulatedPorts().ports, {
      ...EMPTY_SHELF,
      wheels: { ...EMPTY_SHELF.wheels, list: kept.wheels.list },
    });
    after.resume(kept.session);
    const { round, wheels } = after.store.getState();
    expect(wheels.openId).toBe(before.wheelId);
    expect(round).toMatchObject({ phase: 'paused', spoke: 9, settled: [1] });
    expect(after.store.getState().messages.map(({ code }) => code)).toContain('roundContinued');
    after.actions.continueRound();
    expect(after.store.getState().round).toMatchObject({ phase: 'walking', spoke: 9 });
  });
  it('a finished round does not come back as an open one', async () => {
    const before = await bench();
    before.app.actions.finishRound();
    const kept = before.app.store.getState();
    const after = createApp(simulatedPorts().ports, {
      ...EMPTY_SHELF,
      wheels: { ...EMPTY_SHELF.wheels, list: kept.wheels.list },
    });
    after.resume(kept.session);
    expect(after.store.getState().round).toBe(undefined);
  });
});

describe('a round that has ended', () => {
  it('is taken up again at the spoke asked for, after it was put down, and a pluck counts for it', async () => {
    const b = await bench();
    b.hear(handPluck([431.2, 880.1, 1362]));
    b.hear(handPluck([431.3, 880.2, 1362.1]));
    b.app.actions.finishRound();
    const { id } = roundOf(b).round;
    b.app.actions.leaveRound();
    expect(b.app.store.getState().round).toBeUndefined();
    b.app.actions.hearAgain(id, 7);
    expect(roundOf(b)).toMatchObject({ round: { id }, phase: 'walking', spoke: 7, settled: [1] });
    b.hear(handPluck([501.2, 1010.1]));
    expect(roundOf(b).round.plucks.at(-1)?.spoke).toBe(7);
  });

  it('put down, makes room for a new one on the same wheel', async () => {
    const b = await bench();
    b.hear(handPluck([431.2, 880.1, 1362]));
    b.app.actions.finishRound();
    b.app.actions.leaveRound();
    b.app.actions.startRound({ how: HELD });
    expect(roundOf(b)).toMatchObject({ phase: 'walking', spoke: 1, settled: [] });
    expect(b.app.store.getState().wheels.list[0]?.rounds).toHaveLength(2);
  });
});

describe('a round in which nothing was heard', () => {
  it('leaves nothing behind when it is left, so that the one before is the newest', async () => {
    const b = await bench();
    b.hear(handPluck([431.2, 880.1, 1362]));
    b.app.actions.finishRound();
    const { id } = roundOf(b).round;
    b.app.actions.leaveRound();
    b.app.actions.startRound({ how: HELD });
    b.app.actions.closeWheel();
    expect(b.app.store.getState().wheels.list[0]?.rounds.map((round) => round.id)).toEqual([id]);
  });
});

describe('the word of an unfinished round', () => {
  it('goes as soon as the round goes on, or is left', async () => {
    const b = await bench();
    b.hear(handPluck([431.2, 880.1, 1362]));
    const codes = () => b.app.store.getState().messages.map((message) => message.code);
    b.app.actions.closeWheel();
    b.app.actions.openWheel(b.wheelId);
    expect(codes()).toContain('roundContinued');
    await b.app.actions.listenToMicrophone();
    expect(codes()).not.toContain('roundContinued');
    b.app.actions.closeWheel();
    b.app.actions.openWheel(b.wheelId);
    b.app.actions.closeWheel();
    expect(codes()).not.toContain('roundContinued');
  });
});

describe('recordings', () => {
  it('are kept only if the person agreed, and each pluck knows its own', async () => {
    const b = await bench();
    b.hear(handPluck([300, 640]));
    expect(b.simulated.recordings).toEqual([]);
    b.app.actions.setPreference('keepRecordings', true);
    b.hear(handPluck([300, 640], 3));
    expect(b.simulated.recordings).toEqual([roundOf(b).round.plucks[1]?.recordingId]);
  });
});

describe('recordings for a second opinion', () => {
  it('go out under round, spoke and pluck', async () => {
    const b = await bench();
    b.app.actions.setPreference('keepRecordings', true);
    b.hear(handPluck([300, 640]));
    b.hear(handPluck([300, 640], 3));
    await b.app.actions.exportRecordings(b.wheelId);
    expect(b.simulated.shared[0]?.name).toMatch(/\.zip$/);
    expect(b.simulated.shared[0]?.content).toBe('round-1/spoke-01-1.wav round-1/spoke-01-2.wav');
  });
});

describe('speech', () => {
  it('is made only if wanted, and the ear is deaf meanwhile', async () => {
    const b = await bench();
    b.app.actions.speak('Spoke 1: 600 newtons.');
    expect(b.simulated.spoken).toEqual([]);
    b.app.actions.setPreference('speech', true);
    b.app.actions.speak('Spoke 1: 600 newtons.');
    expect(b.simulated.spoken).toEqual(['Spoke 1: 600 newtons.']);
    expect(b.simulated.holdOffs).toHaveLength(1);
  });
});

describe('the shelf', () => {
  it('copies a wheel without its rounds under a name and id of its own', async () => {
    const b = await bench();
    const id = b.app.actions.copyWheel(b.wheelId, 'other');
    const copy = b.app.store.getState().wheels.list.find((wheel) => wheel.id === id);
    expect(copy).toMatchObject({ name: 'other', rounds: [], calibrations: [] });
    expect(id).not.toBe(b.wheelId);
  });
  it('deleting the open wheel closes its ear and its round', async () => {
    const b = await bench();
    b.app.actions.deleteWheel(b.wheelId);
    expect(b.app.store.getState()).toMatchObject({ round: undefined, wheels: { list: [], openId: undefined } });
    expect(b.closed()).toBe(1);
  });
  it('exports everything, notes the day, and the file comes back in as nothing new', async () => {
    const b = await bench();
    await b.app.actions.exportEverything();
    const [file] = b.simulated.shared;
    expect(b.app.store.getState().preferences.lastBackupAt).toBeDefined();
    await b.app.actions.readFile(new Blob([file?.content ?? '']), file?.name ?? '');
    expect(b.app.store.getState().files.importPreview).toMatchObject({ added: [], merged: [] });
  });
  it('brings a deleted wheel back from its file, after a yes', async () => {
    const b = await bench();
    await b.app.actions.exportWheel(b.wheelId);
    b.app.actions.deleteWheel(b.wheelId);
    await b.app.actions.readFile(new Blob([b.simulated.shared[0]?.content ?? '']), 'wheel.json');
    expect(b.app.store.getState().wheels.list).toEqual([]);
    b.app.actions.confirmImport();
    expect(b.app.store.getState().wheels.list[0]?.rounds).toHaveLength(1);
  });
  it('says what is wrong with a file and takes nothing from it', async () => {
    const b = await bench();
    await b.app.actions.readFile(new Blob(['{"a":1}']), 'x.json');
    expect(codes(b)).toContain('fileNotOurs');
    expect(b.app.store.getState().files.importPreview).toBe(undefined);
  });
});

describe('a new version', () => {
  it('is not offered while a round is open, and once it has ended', async () => {
    const b = await bench();
    b.app.updateReady();
    expect(codes(b)).not.toContain('updateReady');
    b.app.actions.finishRound();
    expect(codes(b)).toContain('updateReady');
  });
});

describe('a screen that cannot be kept on', () => {
  it('is said once', async () => {
    const b = await bench();
    b.app.noticeWakeLock('unavailable');
    b.app.noticeWakeLock('unavailable');
    expect(codes(b).filter((code) => code === 'wakeLockMissing')).toHaveLength(1);
  });
});
