import { useState } from 'preact/hooks';
import type { SheetCheck } from '../../../spokes/checkSheet.ts';
import type { Sheet } from '../../../spokes/sheet.ts';
import type { SheetTones } from '../../../spokes/sheetTones.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { MEASURE_REASON_TEXT } from '../../text/measureReasonText.ts';
import { inUnit } from './inUnit.ts';
import { SheetFindingItem } from './SheetFindingItem.tsx';
import { findingText } from './sheetText.ts';
import { WideTable } from './WideTable.tsx';

interface Props {
  readonly sheet: Sheet;
  readonly check: SheetCheck;
  readonly wheel: Wheel;
}

/** Stated tones through the full member, beside the plain string's formula; a worker's time, so on demand. */
export function SheetTonesView({ sheet, check, wheel }: Props) {
  const actions = useActions();
  const unit = useStore((state) => state.preferences.tensionUnit);
  const [result, setResult] = useState<SheetTones | undefined>(undefined);
  const [working, setWorking] = useState(false);
  const of = (severity: 'fault' | 'note') => (result?.findings ?? []).filter((one) => one.severity === severity);
  const [faults, notes] = [of('fault'), of('note')];
  const measure = async () => {
    setWorking(true);
    setResult(await actions.measureSheet(wheel.id, sheet, check.unit));
    setWorking(false);
  };
  return (
    <>
      <h2>Its tones through the full member</h2>
      <button type="button" class="button" disabled={working} onClick={() => void measure()}>
        {working ? 'Measuring …' : 'Turn the tones into tension'}
      </button>
      {result !== undefined && (
        <>
          <ol class="faults">
            {faults.map((finding) => (
              <SheetFindingItem key={JSON.stringify(finding)} finding={finding} unit={check.unit ?? unit} />
            ))}
          </ol>
          <ul>
            {notes.map((finding) => (
              <li key={JSON.stringify(finding)}>{findingText(finding, check.unit ?? unit).what}</li>
            ))}
          </ul>
          <WideTable label="Its tones">
            <table>
              <caption>{unit}; ± is expanded, k = 2; the plain string, 4 μ L² f², takes the lowest tone alone</caption>
              <thead>
                <tr>
                  <th scope="col">Side, row</th>
                  <th scope="col" class="number">
                    Tones, Hz
                  </th>
                  <th scope="col" class="number">
                    On the sheet
                  </th>
                  <th scope="col" class="number">
                    Full member
                  </th>
                  <th scope="col" class="number">
                    Plain string, free length
                  </th>
                  <th scope="col" class="number">
                    Plain string, whole length
                  </th>
                </tr>
              </thead>
              <tbody>
                {result.rows.map((row) => (
                  <tr key={`${row.side} ${row.index}`}>
                    <th scope="row">
                      {row.side} {row.index + 1}
                    </th>
                    <td class="number">{row.tonesHz.join(', ')}</td>
                    <td class="number">{row.sheetN === undefined ? '–' : inUnit(row.sheetN, unit)}</td>
                    <td class="number">
                      {row.member.ok
                        ? `${inUnit(row.member.tensionN, unit)} ± ${inUnit(2 * Math.hypot(row.member.uOwnN, row.member.uCommonN), unit)}`
                        : MEASURE_REASON_TEXT[row.member.reason].sentence}
                    </td>
                    <td class="number">{inUnit(row.stringFreeN, unit)}</td>
                    <td class="number">{inUnit(row.stringWholeN, unit)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </WideTable>
        </>
      )}
    </>
  );
}
