import type { Reading } from '../../../contract.ts';
import type { MeanReading } from '../../../spokes/secondReadings.ts';
import type { Side } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import { inUnit } from './inUnit.ts';
import { WideTable } from './WideTable.tsx';

interface Props {
  readonly ear: ReadonlyMap<number, Reading>;
  readonly second: ReadonlyMap<number, MeanReading>;
  readonly sides: readonly Side[];
  readonly unit: TensionUnit;
}

/** Both methods spoke by spoke, each with its ± (k = 2). */
export function PairTable({ ear, second, sides, unit }: Props) {
  return (
    <WideTable label="Both methods, spoke by spoke">
      <table>
        <thead>
          <tr>
            <th scope="col">Spoke</th>
            <th scope="col">Side</th>
            <th scope="col" class="number">
              Ear ± U, {unit}
            </th>
            <th scope="col" class="number">
              Gauge ± U, {unit}
            </th>
            <th scope="col">Its readings</th>
          </tr>
        </thead>
        <tbody>
          {sides.map((side, i) => {
            const spoke = i + 1;
            const one = ear.get(spoke);
            const other = second.get(spoke);
            if (!one && !other) return null;
            return (
              <tr key={spoke}>
                <th scope="row">{spoke}</th>
                <td>{side}</td>
                <td class="number">
                  {one === undefined
                    ? '–'
                    : `${inUnit(one.tensionN, unit)} ± ${inUnit(2 * Math.hypot(one.uOwnN, one.uCommonN), unit)}`}
                </td>
                <td class="number">
                  {other === undefined ? '–' : `${inUnit(other.meanN, unit)} ± ${inUnit(2 * other.uN, unit)}`}
                </td>
                <td>{other?.valuesN.map((value) => inUnit(value, unit)).join(', ')}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </WideTable>
  );
}
