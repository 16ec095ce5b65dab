import { useRef, useState } from 'preact/hooks';
import { beforeAfterStrip } from '../../drawing/beforeAfterStrip.ts';
import { stripDrawing } from '../../drawing/stripDrawing.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import { AskedTwice } from '../parts/AskedTwice.tsx';
import { routeHref } from '../parts/route.ts';
import { SelectField } from '../parts/SelectField.tsx';
import { NARROW_STRIP, TwoWidths } from '../parts/TwoWidths.tsx';
import { useActions, useStore } from '../store/useStore.ts';
import { localDay, localMinute } from '../text/localTime.ts';
import { headline, isTwiceOff } from './judge/headline.ts';
import { Legend } from './judge/Legend.tsx';
import { NextSteps } from './judge/NextSteps.tsx';
import { SideFigures } from './judge/SideFigures.tsx';
import { SpokeDetail } from './judge/SpokeDetail.tsx';
import { SpokeTable } from './judge/SpokeTable.tsx';
import { STRIP_KEY, stripOf } from './judge/stripOf.ts';
import { Contradictions, Taught } from './judge/Taught.tsx';
import { useJudgement } from './judge/useJudgement.ts';
import { useMeasured } from './judge/useMeasured.ts';
import { WheelView } from './listen/WheelView.tsx';

interface OfRound {
  readonly wheel: Wheel;
  readonly round: Round;
}
interface Chosen {
  readonly onRound: (id: string) => void;
}

/** The verdict on one round of a wheel. */
export default function Judge({ wheel }: { readonly wheel: Wheel }) {
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const round = wheel.rounds.find((one) => one.id === chosen) ?? wheel.rounds.at(-1);
  if (round === undefined)
    return (
      <main>
        <p>This wheel has not been heard yet.</p>
        <a class="button main-action" href={routeHref({ screen: 'listen', wheelId: wheel.id })}>
          Listen
        </a>
      </main>
    );
  return <RoundJudged key={round.id} wheel={wheel} round={round} onRound={setChosen} />;
}

function RoundJudged({ wheel, round, onRound }: OfRound & Chosen) {
  const [selected, setSelected] = useState<number | undefined>(undefined);
  const row = useRef<HTMLElement | undefined>(undefined);
  const select = (spoke: number, from?: HTMLElement) => {
    row.current = from;
    setSelected(spoke);
  };
  const close = () => {
    setSelected(undefined);
    // Back to the row that was tapped.
    row.current?.focus();
  };
  useMeasured(wheel, round);
  const judgement = useJudgement(wheel, round);
  const learned = useStore((state) => state.measured[round.id]?.learned);
  const spoke = selected === undefined ? undefined : judgement.spokes.get(selected);
  const sentence = headline(judgement);
  const heard = round.plucks.length > 0;
  // Beside the wheel where there is room, else below the strip.
  const detail =
    spoke && (() => <SpokeDetail wheel={wheel} round={round} judgement={judgement} spoke={spoke} onClose={close} />);
  return (
    <main class="judge">
      <p class="headline" role="status">
        {sentence}
      </p>
      <p class="soft">
        {localDay(round.startedAt)}, tyre {round.state.tyre === 'unknown' ? 'not known' : round.state.tyre}. A reading
        from this app alone never clears a wheel to ride.
      </p>
      <div class="two-columns">
        <aside class={detail === undefined ? 'stays' : 'stays scrolls'} aria-label="The wheel">
          <WheelView
            spokes={judgement.laid}
            current={selected}
            markOf={(number) => judgement.spokes.get(number)?.mark ?? 'waiting'}
            label={`The wheel as heard. ${sentence}`}
            numbered
            onPick={select}
          />
          <Legend judgement={judgement} />
          {[...judgement.spokes.values()].some(isTwiceOff) && (
            <p class="soft">
              Each spoke has one sign, that of its gravest verdict; the sentence on top and the table count all.
            </p>
          )}
          {detail !== undefined && <div class="wide-only">{detail()}</div>}
        </aside>
        <div>
          {heard && <Strip wheel={wheel} round={round} selected={selected} />}
          {detail !== undefined && <div class="narrow-only">{detail()}</div>}
          <Contradictions wheel={wheel} learned={learned} />
          <NextSteps wheel={wheel} round={round} judgement={judgement} />
          {heard && (
            <>
              <SideFigures wheel={wheel} judgement={judgement} />
              <Taught wheel={wheel} learned={learned} />
              <h2>All spokes</h2>
              <SpokeTable judgement={judgement} selected={selected} onSelect={select} />
            </>
          )}
          <Rounds wheel={wheel} round={round} onRound={onRound} />
        </div>
      </div>
    </main>
  );
}

/** The strip of this round; with another round chosen, both on one scale. */
function Strip({ wheel, round, selected }: OfRound & { readonly selected: number | undefined }) {
  const others = wheel.rounds.filter((one) => one.id !== round.id && one.plucks.length > 0);
  const [beforeId, setBeforeId] = useState('');
  const before = others.find((one) => one.id === beforeId);
  const judgement = useJudgement(wheel, round);
  const strip = stripOf(wheel, judgement);
  return (
    <section class="strip" aria-label="The round unrolled">
      {before === undefined ? (
        <TwoWidths
          draw={(width) =>
            stripDrawing(strip, {
              label: `The round unrolled: left side above the line, right side below. ${headline(judgement)}`,
              ...(width === 'narrow' ? NARROW_STRIP : { letterSize: 15 }),
              ...(selected === undefined ? {} : { selectedSpoke: selected }),
            })
          }
        />
      ) : (
        <BeforeAfter wheel={wheel} before={before} after={round} />
      )}
      <p class="soft">{STRIP_KEY}</p>
      {others.length > 0 && (
        <SelectField
          label="Compare with an earlier round"
          value={beforeId}
          options={[{ value: '', label: 'none' }, ...others.map((one) => ({ value: one.id, label: roundName(one) }))]}
          onChange={setBeforeId}
        />
      )}
    </section>
  );
}

function BeforeAfter({
  wheel,
  before,
  after,
}: {
  readonly wheel: Wheel;
  readonly before: Round;
  readonly after: Round;
}) {
  useMeasured(wheel, before);
  const earlier = useJudgement(wheel, before);
  const later = useJudgement(wheel, after);
  const differs = before.state.tyre !== after.state.tyre;
  return (
    <>
      <TwoWidths
        draw={(width) =>
          beforeAfterStrip(stripOf(wheel, earlier), stripOf(wheel, later), {
            label: `Before, as rings, and after, as marks. Before: ${headline(earlier)} After: ${headline(later)}`,
            ...(width === 'narrow' ? NARROW_STRIP : { letterSize: 15 }),
          })
        }
      />
      <p class="soft">Rings: {roundName(before)}. Marks: this round.</p>
      {differs && (
        <p class="note caution">
          The tyre was {before.state.tyre} then and is {after.state.tyre} now: compare each side with itself only.
        </p>
      )}
    </>
  );
}

const roundName = (round: Round): string =>
  `${localMinute(round.startedAt)}, tyre ${round.state.tyre === 'unknown' ? 'not known' : round.state.tyre}`;

function Rounds({ wheel, round, onRound }: OfRound & Chosen) {
  const actions = useActions();
  return (
    <section class="no-print" aria-label="Rounds">
      <h2>{wheel.rounds.length > 1 ? 'Rounds' : 'This round'}</h2>
      {wheel.rounds.length > 1 && (
        <SelectField
          label="Round shown"
          value={round.id}
          options={wheel.rounds.toReversed().map((one) => ({ value: one.id, label: roundName(one) }))}
          onChange={onRound}
        />
      )}
      <div class="row">
        <a class="button grow" href={routeHref({ screen: 'report', wheelId: wheel.id })}>
          Report
        </a>
        <a class="button grow" href={routeHref({ screen: 'compare', wheelId: wheel.id })}>
          Compare with a gauge
        </a>
        <button type="button" class="button grow" onClick={() => void actions.exportWheel(wheel.id)}>
          Export this wheel
        </button>
        <button type="button" class="button grow" onClick={() => void actions.exportRecordings(wheel.id)}>
          Export its recordings
        </button>
        <AskedTwice
          label="Delete this round"
          sure="Delete it with its plucks"
          onSure={() => actions.deleteRound(wheel.id, round.id)}
        />
      </div>
    </section>
  );
}
