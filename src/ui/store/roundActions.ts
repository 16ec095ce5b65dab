import type { EarEvent } from '../../audio/earEvent.ts';
import type { Heard, HearReason } from '../../contract.ts';
import { type HeardPluck, resumeWalk, type Walk, type WalkEvent, walkRound } from '../../spokes/walkRound.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import { hertz, seconds } from '../../units.ts';
import type { AppActions } from './appActions.ts';
import type { LastPluck, LiveRound } from './appState.ts';
import type { Desk } from './desk.ts';
import { setAside, typedPluck } from './editRound.ts';
import { expectedBook } from './expectedBook.ts';
import type { HowBook } from './howBook.ts';
import type { MeasureQueue } from './measureQueue.ts';
import type { Messages } from './messageActions.ts';
import { roundShelf } from './roundShelf.ts';
import { ROOM_SOUNDS, SIGNALS, signaller } from './roundSignals.ts';
import { firstPlace, viewWalk, walkOf } from './viewWalk.ts';

/** Only where a source did not say: a drawing of a refused sound then has a wrong time axis, nothing else. */
const USUAL_RATE = hertz(48_000);

export type RoundActions = ReturnType<typeof roundActions>;

/** The walk round the wheel: what the ear says becomes plucks, what a person taps becomes steps; the rules are spokes' own. */
export function roundActions(desk: Desk, { say, unsay }: Messages, queue: MeasureQueue) {
  const { get, set, ports, live } = desk;
  let serial = 0;
  const book = expectedBook(ports.measure);
  let hows: HowBook | undefined;
  /** Until the book is there, as the round was begun. */
  const howOf = (wheel: Wheel, round: Round, spoke: number) => hows?.of(wheel, spoke, round.how.crossing) ?? round.how;
  const { find, sidesOf, putRound, dropRound } = roundShelf(desk);
  const show = (wheelId: string, walk: Walk, last: LastPluck | undefined) => {
    const before = get().round;
    const finished = walk.phase === 'finished';
    const round = finished && !walk.round.finishedAt ? { ...walk.round, finishedAt: ports.clock.now() } : walk.round;
    const wheel = find(wheelId);
    if (before?.round !== round) putRound(wheelId, round);
    set({
      round: viewWalk(wheelId, { ...walk, round }, last, wheel ? howOf(wheel, round, walk.spoke) : round.how),
      session: { wheelId, roundId: finished ? undefined : round.id, spoke: finished ? undefined : walk.spoke },
    });
    if (finished && before?.phase !== 'finished') say('roundFinished');
    if (walk.phase !== 'paused' && walk.phase !== 'finished' && before?.spoke !== walk.spoke) expectNow();
  };
  /** It brings the physics along, which the first screen does without. */
  const openHows = async () => {
    if (hows) return;
    const { howBook } = await import('./howBook.ts');
    hows = howBook();
    const now = get().round;
    if (!now) return;
    show(now.wheelId, walkOf(now), now.last);
    expectNow();
  };
  /** Tells the ear which tones the spoke to come would have, and looks up the one after it. */
  const expectNow = () => {
    const now = get().round;
    const listening = live.listening;
    const wheel = now && find(now.wheelId);
    if (!now || !wheel || !listening) return;
    void book.of(wheel, now.spoke, now.how).then((expected) => {
      if (live.listening === listening && get().round?.spoke === now.spoke) listening.expect(expected);
    });
    if (now.nextSpoke !== undefined) void book.of(wheel, now.nextSpoke, howOf(wheel, now.round, now.nextSpoke));
  };
  const step = (event: WalkEvent) => {
    const now = get().round;
    if (!now) return;
    const { walk } = walkRound(walkOf(now), event);
    show(now.wheelId, walk, now.last);
    // Passing over or going back changes no tension.
    if (walk.round.plucks !== now.round.plucks) void queue.ask(now.wheelId, walk.round.id);
  };
  const signal = signaller(desk);

  const credit = (now: LiveRound, pluck: HeardPluck, onsetS: LastPluck['onsetS']) => {
    const { walk, outcome = 'notNow' } = walkRound(walkOf(now), { kind: 'pluckHeard', pluck });
    if (outcome === 'notNow') return outcome;
    const settledNow = outcome === 'settled';
    serial++;
    show(now.wheelId, walk, {
      serial,
      spoke: now.spoke,
      onsetS,
      taken: true,
      pluck,
      outcome,
      settledNow,
      flags: pluck.flags,
    });
    if (settledNow || walk.phase === 'finished') void queue.ask(now.wheelId, now.round.id);
    const sign = walk.phase === 'finished' ? 'finished' : SIGNALS[outcome];
    if (sign) signal(sign);
    return outcome;
  };
  const hearPluck = (now: LiveRound, heard: Heard, event: Extract<EarEvent, { kind: 'heard' }>) => {
    const recordingId = get().preferences.keepRecordings ? ports.clock.newId() : undefined;
    const pluck: HeardPluck = {
      id: ports.clock.newId(),
      at: ports.clock.now(),
      how: now.how,
      tones: heard.tones,
      covarianceHz2: heard.covarianceHz2,
      hypotheses: heard.hypotheses,
      flags: heard.flags,
      ...(recordingId ? { recordingId } : {}),
    };
    const outcome = credit(now, pluck, heard.onsetS);
    if (recordingId && outcome !== 'notNow')
      void ports.recordings.keep({
        id: recordingId,
        wheelId: now.wheelId,
        roundId: now.round.id,
        samples: event.excerpt,
        sampleRateHz: heard.sampleRateHz,
      });
  };
  const hearRefusal = (now: LiveRound, why: HearReason, detail: string | undefined, onsetS: LastPluck['onsetS']) => {
    serial++;
    set({ round: { ...now, last: { serial, spoke: now.spoke, onsetS, taken: false, why, detail } } });
    if (!ROOM_SOUNDS.has(why) && (now.phase === 'walking' || now.phase === 'closing')) signal('refused');
  };

  const onEar = (event: EarEvent) => {
    const { listening } = get();
    switch (event.kind) {
      case 'level':
        if (listening.level !== event.level) set({ listening: { ...listening, level: event.level } });
        return;
      case 'onset':
        return;
      case 'early':
        set({ listening: { ...listening, early: { onsetS: event.onsetS, firstToneHz: event.firstToneHz } } });
        return;
      case 'heard': {
        const { heard, excerpt, excerptStartS } = event;
        live.excerpt = {
          samples: excerpt,
          sampleRateHz: heard.ok ? heard.sampleRateHz : (listening.settings?.sampleRateHz ?? USUAL_RATE),
          startS: excerptStartS,
          onsetS: heard.onsetS,
          tones: heard.ok ? heard.tones : [],
        };
        set({
          listening: { ...listening, early: undefined, spectrumSerial: listening.spectrumSerial + 1 },
        });
        const now = get().round;
        if (!now) return;
        if (heard.ok) hearPluck(now, heard, event);
        else hearRefusal(now, heard.reason, heard.detail, heard.onsetS);
      }
    }
  };

  /** Finds a round that lies on the open wheel, live or past, and puts a changed one in its place. */
  const editPluck = (pluckId: string, aside: boolean) => {
    const wheel = find(get().wheels.openId ?? '');
    const round = wheel?.rounds.find((one) => one.plucks.some((pluck) => pluck.id === pluckId));
    if (!wheel || !round) return;
    const edited = setAside(round, pluckId, aside);
    const now = get().round;
    if (now?.round.id === round.id) show(wheel.id, { ...walkOf(now), round: edited }, now.last);
    else putRound(wheel.id, edited);
    void queue.ask(wheel.id, round.id);
  };

  /** A round in which nothing was heard leaves nothing behind. */
  const leave = () => {
    const now = get().round;
    unsay('roundContinued');
    set({ round: undefined });
    if (now && now.round.plucks.length === 0 && now.round.skipped.length === 0) dropRound(now.wheelId, now.round.id);
  };

  const actions = {
    startRound: (start) => {
      const wheel = find(get().wheels.openId ?? '');
      const sides = wheel ? sidesOf(wheel) : [];
      if (!wheel || sides.length === 0) return;
      const { order, plucksToSettle, person } = get().preferences;
      const settings = get().listening.settings;
      const round: Round = {
        id: ports.clock.newId(),
        startedAt: ports.clock.now(),
        ...(person ? { person } : {}),
        how: start.how,
        state: wheel.state,
        order: start.order ?? order,
        plucksToSettle: start.plucksToSettle ?? plucksToSettle,
        ...(start.firstSpoke ? { firstSpoke: start.firstSpoke } : {}),
        plucks: [],
        skipped: [],
        ...(settings ? { settings } : {}),
      };
      show(wheel.id, { round, sides, phase: 'walking', spoke: firstPlace({ round, sides }) }, undefined);
      void openHows();
    },
    pauseRound: () => step({ kind: 'pause' }),
    continueRound: () => step({ kind: 'resume' }),
    finishRound: () => step({ kind: 'finish' }),
    goBack: () => step({ kind: 'back' }),
    repeatSpoke: () => step({ kind: 'repeat' }),
    skipSpoke: () => step({ kind: 'skip' }),
    jumpTo: (spoke) => step({ kind: 'jump', spoke }),
    hearAgain: (roundId, spoke) => {
      const wheel = find(get().wheels.openId ?? '');
      const round = wheel?.rounds.find((one) => one.id === roundId);
      if (!wheel || !round) return;
      if (get().round?.round.id !== roundId) {
        show(wheel.id, resumeWalk(round, sidesOf(wheel)), undefined);
        void openHows();
      }
      step({ kind: 'jump', spoke });
    },
    leaveRound: () => leave(),
    speak: (sentence) => {
      if (!get().preferences.speech) return;
      const durationS = ports.feedback.speak(sentence);
      if (durationS > 0) live.listening?.holdOff(durationS);
    },
    moveAllAfter: (spoke, direction) => step({ kind: 'moveAllAfter', spoke, by: direction === 'forward' ? 1 : -1 }),
    putAside: (pluckId) => editPluck(pluckId, true),
    takeBack: (pluckId) => editPluck(pluckId, false),
    typeTones: (spoke, tonesHz) => {
      step({ kind: 'jump', spoke });
      const now = get().round;
      if (!now || tonesHz.length === 0) return;
      credit(now, typedPluck(ports.clock.newId(), ports.clock.now(), now.how, tonesHz), seconds(0));
    },
    measureRound: (wheelId, roundId) => void queue.ask(wheelId, roundId),
    deleteRound: dropRound,
  } satisfies Partial<AppActions>;

  return {
    actions,
    onEar,
    /** Sound flows: a paused walk goes on, and the round remembers by what it was heard. */
    soundBegan: () => {
      const now = get().round;
      if (!now) return;
      unsay('roundContinued');
      const settings = get().listening.settings;
      const round = settings && !now.round.settings ? { ...now.round, settings } : now.round;
      const walk = { ...walkOf(now), round };
      show(now.wheelId, now.phase === 'paused' ? walkRound(walk, { kind: 'resume' }).walk : walk, now.last);
      expectNow();
    },
    /** No pluck is in flight any more; the walk stands where it is. */
    soundEnded: () => set({ listening: { ...get().listening, early: undefined } }),
    /** For the demo's hand. */
    spokeToPluck: (): number | undefined => {
      const now = get().round;
      return now && (now.phase === 'walking' || now.phase === 'closing') ? now.spoke : undefined;
    },
    leave,
    /** An unfinished round waits, paused, where it was. */
    resumeOpenRound: (wheelId: string) => {
      const wheel = find(wheelId);
      const open = wheel?.rounds.findLast((round) => !round.finishedAt);
      if (!wheel || !open) return;
      const walk = resumeWalk(open, sidesOf(wheel));
      show(wheelId, walk.phase === 'finished' ? walk : { ...walk, phase: 'paused' }, undefined);
      if (walk.phase !== 'finished') say('roundContinued', `${walk.spoke}`);
      void openHows();
      void queue.ask(wheelId, open.id);
    },
    /** As another tab left the open wheel: the walk stands where that leaves it, or goes on where something is heard here. */
    adopt: (wheelId: string) => {
      const wheel = find(wheelId);
      const now = get().round;
      const kept = wheel?.rounds.findLast((round) => (now ? round.id === now.round.id : !round.finishedAt));
      if (kept !== undefined && kept === now?.round) return;
      if (!wheel || !kept) return set({ round: undefined });
      const walk = now && live.listening ? { ...walkOf(now), round: kept } : resumeWalk(kept, sidesOf(wheel));
      const stands = walk.phase === 'finished' || kept.finishedAt ? 'finished' : live.listening ? walk.phase : 'paused';
      set({ round: viewWalk(wheelId, { ...walk, phase: stands }, now?.last, howOf(wheel, kept, walk.spoke)) });
      void openHows();
      void queue.ask(wheelId, kept.id);
    },
    /** After a reload: at the very spoke where the page closed. */
    standAt: (spoke: number) => {
      const now = get().round;
      if (!now || now.phase === 'finished' || spoke > now.spokeCount) return;
      show(now.wheelId, { ...walkOf(now), spoke }, now.last);
    },
    /** The description changed: tensions and expected tones are other ones now. */
    describedAnew: (wheelId: string) => {
      for (const round of find(wheelId)?.rounds ?? []) if (get().measured[round.id]) void queue.ask(wheelId, round.id);
      if (get().round?.wheelId === wheelId) expectNow();
    },
  };
}
