import type { SheetFinding } from '../../../spokes/sheet.ts';
import type { TensionUnit } from '../../../units.ts';
import { findingText } from './sheetText.ts';

/** A finding: what does not add up, what would explain it, what to ask. */
export function SheetFindingItem({ finding, unit }: { readonly finding: SheetFinding; readonly unit: TensionUnit }) {
  const { what, explains, ask } = findingText(finding, unit);
  return (
    <li data-kind={finding.kind}>
      <p>
        <strong>{what}</strong>
      </p>
      {explains !== undefined && <p>What would explain it: {explains}</p>}
      {ask !== undefined && <p>To ask the author: {ask}</p>}
    </li>
  );
}
