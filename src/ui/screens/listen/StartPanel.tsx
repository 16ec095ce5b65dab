import { useMemo, useState } from 'preact/hooks';
import type { How } from '../../../contract.ts';
import { pluckDrawing } from '../../../drawing/pluckDrawing.ts';
import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';
import type { RoundOrder, Wheel, WheelState } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Drawing } from '../../parts/Drawing.tsx';
import { useActions, useStore } from '../../store/useStore.ts';
import { ACROSS_REASON, pluckSentence } from '../../text/howText.ts';
import { type DemoPlay, isDemo } from './isDemo.ts';
import { waysToPluck } from './waysToPluck.ts';

const TYRES: readonly { readonly value: WheelState['tyre']; readonly label: string }[] = [
  { value: 'off', label: 'off, or flat' },
  { value: 'on', label: 'on, inflated' },
  { value: 'unknown', label: 'not known' },
];

const SETTLE: Readonly<Record<number, string>> = {
  1: 'One pluck settles a spoke',
  2: 'Two plucks that agree settle a spoke',
};

interface Props {
  readonly wheel: Wheel;
  readonly spokes: readonly LaidSpoke[];
  readonly playDemo: (how: DemoPlay) => Promise<void>;
}

const ORDERS: readonly { readonly value: RoundOrder; readonly label: string }[] = [
  { value: 'byPlace', label: 'place by place' },
  { value: 'leftThenRight', label: 'left, then right' },
  { value: 'rightThenLeft', label: 'right, then left' },
  { value: 'free', label: 'free: tap the spoke' },
];

/** Before a round: how to pluck, in one drawing, and one button. What is rarely changed is folded away. */
export function StartPanel({ wheel, spokes, playDemo }: Props) {
  const actions = useActions();
  const hand = useStore((state) => state.preferences.hand);
  const read = useStore((state) => state.preferences.introductionRead);
  const preferred = useStore((state) => state.preferences.order);
  const plucks = useStore((state) => state.preferences.plucksToSettle);
  const speech = useStore((state) => state.preferences.speech);
  const touching = spokes.some((spoke) => spoke.touching) || wheel.layout.kind === 'evenness';
  const [crossing, setCrossing] = useState<How['crossing']>(touching ? 'held' : 'none');
  const [order, setOrder] = useState<RoundOrder>(preferred);
  const ways = useMemo(() => waysToPluck(wheel, spokes, crossing), [wheel, spokes, crossing]);
  const demo = isDemo(wheel);
  const start = (listen: () => Promise<void>) => {
    actions.startRound({
      how: (ways.find(({ how }) => how.crossing === crossing) ?? ways[0])?.how ?? { crossing, direction: 'inPlane' },
      order,
    });
    void listen();
  };
  const hearFile = (file: File | undefined) => file !== undefined && start(() => actions.listenToFile(file, file.name));
  return (
    <main class="listen-start">
      <div class="two-columns">
        <div class="pluck-picture stays">
          {ways.map(({ how, who }) => (
            <figure key={`${how.crossing} ${how.direction}`}>
              <Drawing
                tree={pluckDrawing({
                  label: pluckSentence(how),
                  hand,
                  crossing: how.crossing === 'held' ? 'held' : 'none',
                  direction: how.direction === 'across' ? 'across' : 'inPlane',
                })}
              />
              {who !== '' && <figcaption class="lettering">{who}</figcaption>}
            </figure>
          ))}
        </div>
        <div>
          <ul class="steps">
            <li>Lay a cloth on the other spokes; tie or wedge freehub and disc so that they keep still.</li>
            {ways.map(({ how, who }) => (
              <li key={`${how.crossing} ${how.direction}`}>
                {who !== '' && <strong>{who}: </strong>}
                {pluckSentence(how)}
              </li>
            ))}
            <li>
              Let it ring. Start at the valve hole. {SETTLE[plucks] ?? `${plucks} plucks that agree settle a spoke`}; a
              sound tells you, and the next place is shown{speech && ' and said'}.
            </li>
          </ul>
          {ways.some(({ how }) => how.direction === 'across') && <p class="soft">{ACROSS_REASON}</p>}
          {!read && <p class="note caution">Wear eye protection, and never go past the maker’s limit.</p>}
          <details class="part">
            <summary>
              Round{' '}
              <span class="gist">
                {ORDERS.find((one) => one.value === order)?.label}, tyre{' '}
                {wheel.state.tyre === 'unknown' ? 'not known' : wheel.state.tyre}
              </span>
            </summary>
            <Choices
              legend="Tyre now"
              value={wheel.state.tyre}
              options={TYRES}
              onChange={(tyre) => actions.setWheelState(wheel.id, { ...wheel.state, tyre })}
            >
              An inflated tyre lowers every spoke; a limit holds for the state that its maker says.
            </Choices>
            <Choices legend="Order" value={order} options={ORDERS} onChange={setOrder} />
            {touching && (
              <Choices<How['crossing']>
                legend="The crossing is"
                value={crossing}
                options={[
                  { value: 'held', label: 'held' },
                  { value: 'free', label: 'left free' },
                ]}
                onChange={setCrossing}
              >
                Held is surer: a free pair may ring with the mean of two tensions.
              </Choices>
            )}
            <div class="row">
              <label class="button file-button">
                Hear a recording instead
                <input
                  type="file"
                  accept="audio/*,.wav"
                  onChange={(event) => hearFile(event.currentTarget.files?.[0])}
                />
              </label>
              {demo && (
                <button type="button" class="button" onClick={() => start(() => actions.listenToMicrophone())}>
                  Use the microphone instead
                </button>
              )}
            </div>
          </details>
        </div>
      </div>
      <div class="listen-controls">
        {demo ? (
          <>
            <div class="row">
              <button type="button" class="button" onClick={() => start(() => playDemo('silently'))}>
                Hear the demo wheel, fast and without sound
              </button>
            </div>
            <button type="button" class="button main-action" onClick={() => start(() => playDemo('aloud'))}>
              Play the demo aloud
            </button>
          </>
        ) : (
          <>
            <p class="soft">
              The browser will ask for the microphone, to hear the spokes. Sound never leaves this device.
            </p>
            <button type="button" class="button main-action" onClick={() => start(() => actions.listenToMicrophone())}>
              Start listening
            </button>
          </>
        )}
      </div>
    </main>
  );
}
