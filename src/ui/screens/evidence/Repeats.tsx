import { type RepeatedRound, repeatability, reproducibility } from '../../../spokes/repeatability.ts';
import type { TensionUnit } from '../../../units.ts';
import { intervalInUnit, inUnit } from './inUnit.ts';

interface Props {
  readonly method: string;
  readonly rounds: readonly RepeatedRound[];
  readonly unit: TensionUnit;
}

/** How well a method repeats itself, from two or more rounds of a wheel that was not touched in between. */
export function Repeats({ method, rounds, unit }: Props) {
  const same = repeatability(rounds);
  const people = new Set(rounds.map((round) => round.by)).size;
  const over = people > 1 ? reproducibility(rounds) : undefined;
  if (same === undefined)
    return (
      <p class="soft">
        {method}: no spoke was read twice, so its repeatability is not known. Two rounds of the untouched wheel tell it.
      </p>
    );
  return (
    <table class="figures">
      <caption>
        {method}: {same.spokes} spokes read more than once, up to {same.rounds} times; {unit}
      </caption>
      <tbody>
        <tr>
          <th scope="row">Standard deviation within a spoke</th>
          <td class="number">{inUnit(same.withinSd, unit, 1)}</td>
        </tr>
        <tr>
          <th scope="row">Repeatability coefficient: 19 of 20 pairs differ by less</th>
          <td class="number">{inUnit(same.coefficient, unit, 1)}</td>
        </tr>
        <tr>
          <th scope="row">Same within a spoke, mean changes taken out</th>
          <td class="number">{inUnit(same.withinSdNoDrift, unit, 1)}</td>
        </tr>
        {same.drifts.map((drift, i) => (
          <tr key={i}>
            <th scope="row">Mean change, reading {i + 2} less the first (95 % interval)</th>
            <td class="number">{intervalInUnit(drift, unit)}</td>
          </tr>
        ))}
        {over && (
          <>
            <tr>
              <th scope="row">Between persons or devices, standard deviation</th>
              <td class="number">{inUnit(over.betweenSd, unit, 1)}</td>
            </tr>
            <tr>
              <th scope="row">Reproducibility, standard deviation of one reading by anyone</th>
              <td class="number">{inUnit(over.reproducibilitySd, unit, 1)}</td>
            </tr>
          </>
        )}
      </tbody>
    </table>
  );
}
