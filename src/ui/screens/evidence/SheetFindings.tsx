import { useMemo } from 'preact/hooks';
import { checkSheet, type SheetCheck } from '../../../spokes/checkSheet.ts';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { Sheet } from '../../../spokes/sheet.ts';
import type { SideStatistics } from '../../../spokes/sideStatistics.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { useStore } from '../../store/useStore.ts';
import { SheetFindingItem } from './SheetFindingItem.tsx';
import { SheetTonesView } from './SheetTonesView.tsx';
import { findingText, STATEMENT_TEXT } from './sheetText.ts';
import type { SheetForm } from './useSheetForm.ts';
import { WideTable } from './WideTable.tsx';

/** What the sheet says when it is computed again. */
export function SheetFindings({ form }: { readonly form: SheetForm }) {
  const wheel = useStore((state) => state.wheels.list.find((one) => one.id === form.raw('wheel')));
  const { sheet } = form;
  const check = useMemo(() => {
    const laid = wheel ? expandLayout(wheel.layout) : undefined;
    return sheet && checkSheet(sheet, laid?.ok ? laid.spokes : []);
  }, [sheet, wheel]);
  if (sheet === undefined || check === undefined)
    return <p class="soft">Put in a table, and what follows from it stands here.</p>;
  return (
    <section aria-label="What the sheet says">
      <Checked sheet={sheet} check={check} wheel={wheel} />
      {wheel !== undefined && sheet.tonesHz !== undefined && (
        <SheetTonesView key={JSON.stringify(sheet.tonesHz)} sheet={sheet} check={check} wheel={wheel} />
      )}
    </section>
  );
}

interface Props {
  readonly sheet: Sheet;
  readonly check: SheetCheck;
  readonly wheel: Wheel | undefined;
}

function Checked({ sheet, check, wheel }: Props) {
  const unit = useStore((state) => state.preferences.tensionUnit);
  const shownIn = check.unit ?? unit;
  const faults = check.findings.filter((one) => one.severity === 'fault');
  const notes = check.findings.filter((one) => one.severity === 'note');
  return (
    <>
      <h2>What does not add up</h2>
      <p class="headline" role="status">
        {faults.length === 0
          ? 'Nothing that was looked at contradicts itself.'
          : faults.length === 1
            ? 'One thing does not add up.'
            : `${faults.length} things do not add up.`}
      </p>
      <ol class="faults">
        {faults.map((finding) => (
          <SheetFindingItem key={JSON.stringify(finding)} finding={finding} unit={shownIn} />
        ))}
      </ol>
      {wheel === undefined && sheet.left.length > 0 && sheet.right.length > 0 && (
        <p class="soft">The ratio of the sides was not tested: no described wheel was chosen.</p>
      )}
      {check.lacks.length > 0 && (
        <>
          <h2>What the sheet lacks</h2>
          <ul class="lacks">
            {check.lacks.map((one) => (
              <li key={one}>
                {STATEMENT_TEXT[one].name}: {STATEMENT_TEXT[one].why}
              </li>
            ))}
          </ul>
        </>
      )}
      {notes.length > 0 && (
        <>
          <h2>What else was noticed</h2>
          <ul>
            {notes.map((finding) => (
              <li key={JSON.stringify(finding)}>
                {findingText(finding, shownIn).what} {findingText(finding, shownIn).ask}
              </li>
            ))}
          </ul>
        </>
      )}
      <h2>Computed again</h2>
      <WideTable label="Computed again">
        <table>
          <caption>In the sheet’s own unit{check.unit === undefined ? ', whichever it is' : `, ${check.unit}`}</caption>
          <thead>
            <tr>
              <th scope="col">Side</th>
              <th scope="col" class="number">
                Spokes
              </th>
              <th scope="col" class="number">
                Mean
              </th>
              <th scope="col" class="number">
                Standard deviation (n − 1)
              </th>
              <th scope="col" class="number">
                Range
              </th>
              <th scope="col" class="number">
                Mean absolute deviation
              </th>
            </tr>
          </thead>
          <tbody>
            {(['left', 'right'] as const).map((side) => (
              <Side key={side} name={side} statistics={check.sides[side]} />
            ))}
          </tbody>
        </table>
      </WideTable>
    </>
  );
}

function Side({ name, statistics }: { readonly name: string; readonly statistics: SideStatistics | undefined }) {
  if (statistics === undefined) return null;
  const { percent } = statistics;
  const shown = (value: number | undefined) => (value === undefined ? '–' : `${value.toFixed(1)} %`);
  return (
    <tr>
      <th scope="row">{name}</th>
      <td class="number">{statistics.count}</td>
      <td class="number">{Number(statistics.mean.toPrecision(5))}</td>
      <td class="number">{shown(percent.standardDeviation)}</td>
      <td class="number">{shown(percent.range)}</td>
      <td class="number">{shown(percent.meanAbsoluteDeviation)}</td>
    </tr>
  );
}
