import type { ComponentChildren } from 'preact';
import { helpDrawing } from '../../drawing/helpDrawing.ts';
import { pluckDrawing } from '../../drawing/pluckDrawing.ts';
import type { SvgNode } from '../../drawing/svg.ts';
import { Drawing } from '../parts/Drawing.tsx';
import { useStore } from '../store/useStore.ts';
import { Cautions } from './Cautions.tsx';

interface Page {
  readonly topic: string;
  readonly title: string;
  readonly drawing: (hand: 'right' | 'left') => SvgNode;
  readonly words: ComponentChildren;
}

const PAGES: readonly Page[] = [
  {
    topic: 'pluck',
    title: 'How to pluck and hold',
    drawing: (hand) =>
      pluckDrawing({
        label: 'One hand holds the crossing, a finger of the other plucks the long part of the spoke along the rim.',
        hand,
        crossing: 'held',
        direction: 'inPlane',
      }),
    words: (
      <>
        <p>
          Pinch the outermost crossing between finger and thumb. With a fingertip of the other hand pull the spoke along
          the rim, in the middle of its long part, and let go at once. Let it ring for half a second.
        </p>
        <p>
          Along the rim matters: there the crossing stands still by friction and the spoke rings with its own tone.
          Plucked across the wheel, sideways, two crossed spokes swing together and give the mean of two tensions.
        </p>
        <p>
          Spokes that cross no other have nothing to hold. Round ones are plucked along the rim; blades across the
          wheel, where they bend more easily and their lowest tone tells more of tension. The screen says which.
        </p>
        <p>A cloth on the other spokes keeps them quiet; hold the freehub and brake disc still.</p>
      </>
    ),
  },
  {
    topic: 'hears',
    title: 'How it hears',
    drawing: () =>
      helpDrawing('hears', 'A pluck dies away; it is made of several tones; from the tones follows the tension.'),
    words: (
      <>
        <p>
          The microphone takes the pluck; the app waits until the knock of the finger is over and splits the ring into
          its tones. Each tone is one way in which the spoke can swing.
        </p>
        <p>
          From length, thickness, material and the crossing it computes which tones this spoke would have at every
          tension, and finds the tension at which they fit. Two plucks must agree before a spoke counts. A sound that is
          no pluck is refused, with the reason.
        </p>
      </>
    ),
  },
  {
    topic: 'tones',
    title: 'Why two tones',
    drawing: () =>
      helpDrawing(
        'twoTones',
        'The two lowest ways of swinging, once with ends that are held stiff and once with ends that turn: stiff ends shorten what swings.',
      ),
    words: (
      <>
        <p>
          A spoke is not a string: it is stiff, and nobody can see how firmly hub and rim hold it. Taken as clamped or
          as hinged, the same lowest tone means tensions that lie about 20 % apart.
        </p>
        <p>
          The higher tones tell: stiffness moves each of them differently. The more tones are heard, the better the ends
          are known, and the whole wheel shares what it learns. That is why a clean ring of several tones gives a
          narrower ± than a dull one.
        </p>
      </>
    ),
  },
  {
    topic: 'plusminus',
    title: 'What the ± means',
    drawing: () =>
      helpDrawing(
        'plusMinus',
        'Four readings with their intervals beside a maker’s maximum: within, cannot be cleared, probably over, over the limit.',
      ),
    words: (
      <>
        <p>
          The true tension lies within the ± about 19 times in 20, as far as the description of the wheel and the model
          are right. It is twice the standard uncertainty.
        </p>
        <p>
          A limit is judged with all of it. “Within” means the whole interval lies inside. “Cannot be cleared” means the
          reading is inside but the interval is not: the way out is to narrow it — measure the free length with a ruler,
          weigh a spoke, enter a known tension.
        </p>
        <p>
          Evenness uses a smaller ±: what all spokes of a side share, such as their mass, cancels when they are compared
          with each other.
        </p>
      </>
    ),
  },
  {
    topic: 'known',
    title: 'What a known tension teaches',
    drawing: () =>
      helpDrawing(
        'knownLoad',
        'A spare spoke stretched in a frame between two clamps, a load cell in line with it; its length counts from clamp to clamp.',
      ),
    words: (
      <>
        <p>
          A spoke in the wheel whose tension you know by a gauge teaches everything: mass, stiffness, and how firmly hub
          and rim hold it. A spare spoke of the same kind under a load teaches mass and stiffness, but not how hub and
          rim hold it.
        </p>
        <p>
          A load cell in line with the spare spoke is best. Under two loads far apart, such as 200 and 1000 N, its tones
          tell the wire from what holds it. Weights that hang on a spoke fall when a knot or the spoke gives: hang them
          low over something soft, keep feet and head away, wear eye protection.
        </p>
        <p>
          What you enter counts by its own ±; it is not taken as exact. Where it contradicts the description by more
          than both allow, the app says so: trust neither until the cause is found.
        </p>
      </>
    ),
  },
  {
    topic: 'unknown',
    title: 'What it cannot know',
    drawing: () =>
      helpDrawing('cannotKnow', 'A spoke with question marks at the hub end, in the metal and at the rim end.'),
    words: (
      <>
        <p>
          How stiffly hub and rim hold the spoke is learnt from the tones, not seen. On composite and on short thick
          spokes the tones hardly tell, so the ± is wide: a spoke of known tension helps most.
        </p>
        <p>
          It cannot see a crack, a notch, corrosion or a worn thread, nor whether the described spoke is the one in the
          wheel. A tyre’s pressure and warmth move the tension: a limit holds for the state its maker says.
        </p>
        <p>It is checked on simulated wheels and on musical strings; no wheel of known tensions has been heard yet.</p>
        <Cautions />
      </>
    ),
  },
];

/** Words and one drawing to each question, there without a network. */
export default function Help({ topic }: { readonly topic: string }) {
  const hand = useStore((state) => state.preferences.hand);
  const page = PAGES.find((one) => one.topic === topic);
  if (page === undefined)
    return (
      <main>
        <ul class="wheel-list">
          {PAGES.map((one) => (
            <li key={one.topic}>
              <a class="wheel-card help-card" href={`#/help/${one.topic}`}>
                <span aria-hidden="true">
                  <Drawing tree={one.drawing(hand)} />
                </span>
                <span class="name">{one.title}</span>
              </a>
            </li>
          ))}
        </ul>
      </main>
    );
  const next = PAGES[(PAGES.indexOf(page) + 1) % PAGES.length];
  return (
    <main>
      <a class="button" href="#/help">
        All questions
      </a>
      <h2>{page.title}</h2>
      <div class="help-drawing">
        <Drawing tree={page.drawing(hand)} />
      </div>
      {page.words}
      {next !== undefined && (
        <a class="button" href={`#/help/${next.topic}`}>
          Next: {next.title}
        </a>
      )}
    </main>
  );
}
