import { useMemo } from 'preact/hooks';
import { spectrumDrawing } from '../../../drawing/spectrumDrawing.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { TwoWidths } from '../../parts/TwoWidths.tsx';
import type { LiveRound } from '../../store/appState.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { spectrumPicture } from './spectrumPictureOf.ts';

/** Of the panel on the narrowest phone, where the lettering then has 16 pixels. */
const NARROW = { width: 260, height: 170, letterSize: 18 } as const;

/** The sound of the last pluck, the tones taken from it, and what the described spoke predicts. */
export default function SpectrumView({ live }: { readonly wheel: Wheel; readonly live: LiveRound }) {
  const actions = useActions();
  const serial = useStore((state) => state.listening.spectrumSerial);
  const spoke = live.last?.spoke;
  const reading = useStore((state) =>
    spoke === undefined ? undefined : state.measured[live.round.id]?.readings[spoke],
  );
  const excerpt = useMemo(() => actions.lastExcerpt(), [serial, actions]);
  const picture = useMemo(
    () => (excerpt === undefined ? undefined : spectrumPicture(excerpt, reading?.ok === true ? reading : undefined)),
    [excerpt, reading],
  );
  if (picture === undefined) return <p class="soft">No pluck has been heard yet.</p>;
  const used = picture.tones.filter((tone) => tone.mode > 0).length;
  return (
    <figure class="spectrum">
      <TwoWidths
        draw={(width) =>
          spectrumDrawing(picture, {
            label: `Spectrum of the last pluck: ${picture.tones.length} tones taken, ${used} of them used, ${picture.predicted.length} predicted.`,
            ...(width === 'narrow' ? NARROW : { letterSize: 18 }),
          })
        }
      />
      <figcaption>
        Numbered: tones used. Ring: heard, not used. Broken lines: where the described spoke has its tones at the
        tension found. Where they meet, the number may be believed.
      </figcaption>
    </figure>
  );
}
