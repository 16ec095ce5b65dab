import type { Round } from '../../../../spokes/wheel.ts';
import { useActions, useStore } from '../../../store/useStore.ts';
import { localDay } from '../../../text/localTime.ts';
import { useJudgement } from '../../judge/useJudgement.ts';
import { handOutFiles } from './handOutFiles.ts';

interface Props extends Omit<Parameters<typeof handOutFiles>[0], 'earlier'> {
  readonly before: Round | undefined;
}

const TYPES: Readonly<Record<string, string>> = { csv: 'text/csv', svg: 'image/svg+xml', txt: 'text/plain' };
const LABELS: Readonly<Record<string, string>> = {
  'report.csv': 'Table as CSV',
  'gauge.csv': 'Gauge readings as CSV',
  'wheel.svg': 'Wheel as SVG',
  'strip.svg': 'Strip as SVG',
  'before-after.svg': 'Before and after as SVG',
  'difference-left.svg': 'Left plot as SVG',
  'difference-right.svg': 'Right plot as SVG',
};

/** Print, and files that others can recompute from. */
export function HandOut({ before, ...props }: Props) {
  const actions = useActions();
  const recordings = useStore((state) => state.files.recordings);
  const { wheel, round } = props.report;
  const earlier = useJudgement(wheel, before ?? round);
  const files = handOutFiles({ ...props, earlier: before && earlier });
  const stem = `${wheel.name.replace(/[^\p{L}\p{N}]+/gu, '-')}-${localDay(round.startedAt)}`;
  const own = wheel.rounds.reduce((sum, one) => sum + one.plucks.filter((pluck) => pluck.recordingId).length, 0);
  return (
    <section class="no-print" aria-label="Hand out">
      <button type="button" class="button main-action" onClick={() => print()}>
        Print, or save as PDF
      </button>
      <details class="part">
        <summary>
          Files <span class="gist">table, pictures, wheel, one archive of all</span>
        </summary>
        <div class="row hand-out">
          <button type="button" class="button grow" onClick={() => void actions.exportRecordings(wheel.id, files)}>
            One archive of all
          </button>
          <button type="button" class="button grow" onClick={() => void actions.exportWheel(wheel.id)}>
            Wheel as JSON
          </button>
          {Object.entries(LABELS).map(([name, label]) => {
            const content = files[name];
            if (content === undefined) return null;
            const type = TYPES[name.split('.').at(-1) ?? ''] ?? 'text/plain';
            return (
              <button
                key={name}
                type="button"
                class="button grow"
                onClick={() => void actions.shareFile(`${stem}-${name}`, type, content)}
              >
                {label}
              </button>
            );
          })}
        </div>
        <p class="soft">
          The archive holds all of these
          {own > 0
            ? ` and ${own} recordings of this wheel’s plucks (all recordings on this device: ${(recordings.bytes / 1e6).toFixed(1)} MB)`
            : '; no recordings were kept (Settings, Recordings)'}
          . It comes back in through Import on the first screen.
        </p>
      </details>
    </section>
  );
}
