import { pictureWheel } from '../../../drawing/pictureWheel.ts';
import { stripDrawing } from '../../../drawing/stripDrawing.ts';
import { toMarkup } from '../../../drawing/toMarkup.ts';
import { wheelDrawing } from '../../../drawing/wheelDrawing.ts';
import { reportCsv } from '../../../spokes/reportCsv.ts';
import type { ReportView } from '../../../spokes/reportView.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { headline } from '../judge/headline.ts';
import type { Judgement } from '../judge/judgementOf.ts';
import { stripOf } from '../judge/stripOf.ts';

/** Print, and files that others can recompute from. */
export function HandOut({ report, judgement }: { readonly report: ReportView; readonly judgement: Judgement }) {
  const actions = useActions();
  const unit = useStore((state) => state.preferences.tensionUnit);
  const { wheel, round } = report;
  const name = `${wheel.name.replace(/[^\p{L}\p{N}]+/gu, '-')}-${round.startedAt.slice(0, 10)}`;
  const label = headline(judgement);
  const share = (end: string, type: string, content: string) => void actions.shareFile(`${name}.${end}`, type, content);
  return (
    <div class="no-print">
      <button type="button" class="button main-action" onClick={() => print()}>
        Print, or save as PDF
      </button>
      <div class="row hand-out">
        <button type="button" class="button grow" onClick={() => share('csv', 'text/csv', reportCsv(report, unit))}>
          Table as CSV
        </button>
        <button type="button" class="button grow" onClick={() => void actions.exportWheel(wheel.id)}>
          Wheel as JSON
        </button>
        <button type="button" class="button grow" onClick={() => void actions.exportRecordings(wheel.id)}>
          Archive with recordings
        </button>
        <button
          type="button"
          class="button grow"
          onClick={() =>
            share(
              'wheel.svg',
              'image/svg+xml',
              toMarkup(
                wheelDrawing(
                  pictureWheel(judgement.laid, (n) => judgement.spokes.get(n)?.mark ?? 'waiting'),
                  { label, numberFlagged: true },
                ),
              ),
            )
          }
        >
          Wheel as SVG
        </button>
        <button
          type="button"
          class="button grow"
          onClick={() =>
            share('strip.svg', 'image/svg+xml', toMarkup(stripDrawing(stripOf(wheel, judgement), { label })))
          }
        >
          Strip as SVG
        </button>
      </div>
    </div>
  );
}
