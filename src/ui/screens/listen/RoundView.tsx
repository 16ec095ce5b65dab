import { useEffect, useMemo, useState } from 'preact/hooks';
import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { MarkSign } from '../../parts/MarkSign.tsx';
import { routeHref } from '../../parts/route.ts';
import type { ClosingResult, LiveRound } from '../../store/appState.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { HEAR_REASON_TEXT } from '../../text/hearReasonText.ts';
import { pluckReminder } from '../../text/howText.ts';
import type { SpokeView } from '../judge/judgementOf.ts';
import { signed } from '../judge/showTension.ts';
import { useJudgementLater } from '../judge/useJudgement.ts';
import { useMeasured } from '../judge/useMeasured.ts';
import { isDemo } from './isDemo.ts';
import { LevelSign } from './LevelSign.tsx';
import { MorePanel } from './MorePanel.tsx';
import { placeWords } from './placeWords.ts';
import { SettledStatus } from './SettledStatus.tsx';
import { WheelView } from './WheelView.tsx';
import { waysToPluck } from './waysToPluck.ts';

interface Props {
  readonly wheel: Wheel;
  readonly spokes: readonly LaidSpoke[];
  readonly live: LiveRound;
  /** Goes on as the demo was begun. */
  readonly playDemo: () => Promise<void>;
}

/** A round under way: nothing needs to be touched between start and verdict. */
export function RoundView({ wheel, spokes, live, playDemo }: Props) {
  const actions = useActions();
  const left = useStore((state) => state.preferences.hand === 'left');
  const [more, setMore] = useState(false);
  useMeasured(wheel, live.round.plucks.length > 0 ? live.round : undefined);
  const judgement = useJudgementLater(wheel, live.round);
  const ways = useMemo(
    () => waysToPluck(wheel, spokes, live.round.how.crossing),
    [wheel.layout, wheel.sides, wheel.kinds, spokes, live.round.how.crossing],
  );
  const finished = live.phase === 'finished';
  const shown = newestAnswer(live, judgement.spokes);
  const current = finished || awaitsTap(live) ? undefined : live.spoke;
  const hearing = useStore((state) => state.listening.status === 'on') && live.phase !== 'paused' && !finished;
  // Nothing is left to hear: the microphone is let go.
  useEffect(() => {
    if (finished) actions.stopListening();
  }, [finished, actions]);
  // Nothing is credited to a spoke that is not on the screen.
  useEffect(() => actions.stopListening, [actions]);
  return (
    <main class={hearing ? 'round hearing' : finished ? 'round ended' : 'round'}>
      <div class={left ? 'listen left-handed' : 'listen'}>
        <Place live={live} mixed={ways.length > 1} />
        <div class="state">
          <Progress live={live} />
          <LevelSign />
        </div>
        <div class="answer">
          <Answer shown={shown} live={live} evenness={judgement.kind === 'evenness'} />
          <SettledStatus live={live} spokes={judgement.spokes} measured={judgement.status === 'ready'} />
        </div>
        <WheelView
          spokes={spokes}
          current={current}
          markOf={(spoke) => judgement.spokes.get(spoke)?.mark ?? 'waiting'}
          label={current === undefined ? 'The wheel as heard.' : `The wheel; spoke ${current} is to be plucked.`}
          letterSize={finished ? 32 : 36}
          numbered={finished}
          onPick={actions.jumpTo}
        />
      </div>
      {more && <MorePanel wheel={wheel} live={live} onClose={() => setMore(false)} />}
      <Controls
        wheel={wheel}
        live={live}
        listen={isDemo(wheel) ? playDemo : actions.listenToMicrophone}
        onMore={() => setMore((open) => !open)}
        more={more}
        leftHanded={left}
      />
    </main>
  );
}

/** The spoke plucked last that has an answer: tensions come a moment after the pluck. Before any pluck, what is known of the one to come. */
function newestAnswer(live: LiveRound, spokes: ReadonlyMap<number, SpokeView>): SpokeView | undefined {
  const here = spokes.get(live.spoke);
  if (live.last === undefined && here?.figure !== undefined) return here;
  const last = live.last === undefined ? undefined : spokes.get(live.last.spoke);
  if (last?.figure !== undefined || last?.whyNot !== undefined) return last;
  const newest = live.round.plucks.findLast((pluck) => spokes.get(pluck.spoke)?.figure !== undefined);
  return newest === undefined ? last : spokes.get(newest.spoke);
}

/** In free order nobody knows the next place before it is tapped. */
const awaitsTap = (live: LiveRound): boolean =>
  live.round.order === 'free' && live.phase === 'paused' && live.settled.includes(live.spoke);

/** A few are named; more are counted. */
const NAMED = 3;

/** What an ended round has heard. */
function endWords({ settled, spokeCount }: LiveRound): string {
  const known = new Set(settled);
  const missing = Array.from({ length: spokeCount }, (_, i) => i + 1).filter((spoke) => !known.has(spoke));
  if (missing.length === 0) return 'All heard';
  if (missing.length <= NAMED) return `All heard but ${missing.join(', ')}`;
  return `Ended: ${settled.length} of ${spokeCount} heard`;
}

function Place({ live, mixed }: { readonly live: LiveRound; readonly mixed: boolean }) {
  if (live.phase === 'finished') return <p class="place">{endWords(live)}</p>;
  if (awaitsTap(live)) return <p class="place">Tap the spoke that you pluck next</p>;
  const words = placeWords(live.spoke, live.spokeCount);
  if (live.phase === 'closing') return <p class="place">Once more spoke {live.spoke}, to close the round</p>;
  return (
    <p class="place">
      Pluck spoke {live.spoke}, {live.side}
      <span class="where">{mixed ? `${words}; ${pluckReminder(live.how)}` : words}</span>
    </p>
  );
}

function Progress({ live }: { readonly live: LiveRound }) {
  const heard = live.settled.length;
  const taken = live.phase === 'walking' && live.agreeing > 0 && live.agreeing < live.plucksToSettle;
  return (
    <p class="progress">
      <progress max={live.spokeCount} value={heard} aria-label="Spokes heard">
        {heard}
      </progress>{' '}
      <span>
        {heard} of {live.spokeCount}
        {taken && `, pluck ${live.agreeing} of ${live.plucksToSettle} taken`}
      </span>
    </p>
  );
}

/** As many signs as stand beside their unit in full size. */
const SHORT = 4;

function Answer({
  shown,
  live,
  evenness,
}: {
  readonly shown: SpokeView | undefined;
  readonly live: LiveRound;
  readonly evenness: boolean;
}) {
  const last = live.last;
  const refused = last !== undefined && !last.taken ? HEAR_REASON_TEXT[last.why] : undefined;
  const figure = shown?.figure;
  return (
    <>
      {figure !== undefined && (
        <p class="of-spoke">
          Spoke {shown?.number}, ± {figure.plusMinus} {figure.unit}
          {evenness && ' against its side’s mean'}
        </p>
      )}
      <p class={figure === undefined ? 'digits none' : figure.value.length > SHORT ? 'digits long' : 'digits'}>
        {figure === undefined ? (
          <span aria-hidden="true">–</span>
        ) : (
          <>
            {figure.value}
            <span class="unit"> {figure.unit}</span>
          </>
        )}
      </p>
      {refused !== undefined && live.phase !== 'finished' ? (
        <div class="why" key={last?.serial}>
          <strong>Not taken. {refused.sentence}</strong> {refused.next}
        </div>
      ) : (
        shown !== undefined &&
        shown.mark !== 'waiting' && (
          <p class="verdict">
            <MarkSign mark={shown.mark} /> {shown.word}
          </p>
        )
      )}
      {refused === undefined && shown?.whyNot !== undefined && (
        <p class="why">
          {shown.whyNot.sentence} {shown.whyNot.next}
        </p>
      )}
      {refused === undefined && <Outcome live={live} />}
      {live.closing !== undefined && <Closing closing={live.closing} />}
    </>
  );
}

/** A pluck that was heard well but does not fit the ones before; of an ended round nothing more is asked. */
function Outcome({ live }: { readonly live: LiveRound }) {
  const last = live.last;
  if (last?.taken !== true || live.phase === 'finished') return null;
  if (last.outcome === 'differs')
    return <p class="why">Unlike the pluck before. Pluck spoke {last.spoke} once more.</p>;
  if (last.outcome === 'contested')
    return (
      <p class="why">Two agree, but not with the first. Make sure it is spoke {last.spoke}, and pluck it once more.</p>
    );
  return null;
}

function Closing({ closing }: { readonly closing: ClosingResult }) {
  const drift = closing.driftPercent === undefined ? '' : ` (${signed(closing.driftPercent)} % in pitch)`;
  return (
    <p class="why">
      {closing.agrees
        ? `The first spoke sounds as it did${drift}: no place was slipped.`
        : `The first spoke sounds different now${drift}: a place may have been slipped, or the wheel changed. See “More”, “If a place was slipped”.`}
    </p>
  );
}

function Controls({
  wheel,
  live,
  listen,
  onMore,
  more,
  leftHanded,
}: {
  readonly wheel: Wheel;
  readonly live: LiveRound;
  readonly listen: () => Promise<void>;
  readonly onMore: () => void;
  readonly more: boolean;
  readonly leftHanded: boolean;
}) {
  const actions = useActions();
  const listening = useStore((state) => state.listening.status);
  const hears = listening === 'on' || listening === 'opening';
  const goOn = () => {
    if (live.phase === 'paused') actions.continueRound();
    if (!hears) void listen();
  };
  const finished = live.phase === 'finished';
  return (
    <div class={leftHanded ? 'listen-controls left-handed' : 'listen-controls'}>
      <div class="row">
        <button type="button" class="button" onClick={actions.goBack}>
          Back
        </button>
        <button type="button" class="button" onClick={actions.repeatSpoke}>
          Repeat
        </button>
        {finished ? (
          <button type="button" class="button" onClick={actions.leaveRound}>
            New round
          </button>
        ) : (
          <button type="button" class="button" onClick={actions.skipSpoke}>
            Skip
          </button>
        )}
        <button type="button" class="button" aria-expanded={more} onClick={onMore}>
          More
        </button>
      </div>
      {finished ? (
        <a class="button main-action" href={routeHref({ screen: 'judge', wheelId: wheel.id })}>
          See the verdict
        </a>
      ) : awaitsTap(live) && hears ? (
        <button type="button" class="button main-action" onClick={actions.finishRound}>
          End the round as it stands
        </button>
      ) : live.phase === 'paused' || !hears ? (
        <button type="button" class="button main-action" onClick={goOn}>
          Go on at spoke {live.spoke}
        </button>
      ) : (
        <button
          type="button"
          class="button main-action"
          onClick={() => {
            actions.pauseRound();
            actions.stopListening();
          }}
        >
          Pause
        </button>
      )}
    </div>
  );
}
