import { MarkSign } from '../../parts/MarkSign.tsx';
import type { Judgement } from './judgementOf.ts';
import { signed } from './showTension.ts';

interface Props {
  readonly judgement: Judgement;
  readonly selected: number | undefined;
  readonly onSelect: (spoke: number) => void;
}

/** Every spoke with number, ±, unit, and the verdicts that follow. */
export function SpokeTable({ judgement, selected, onSelect }: Props) {
  const absolute = judgement.kind === 'tension';
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than the screen must scroll by keys
    <section class="table-frame" aria-label="All spokes" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">Spoke</th>
            <th scope="col">Side</th>
            {absolute && (
              <th scope="col" class="number">
                Tension, {judgement.unit}
              </th>
            )}
            <th scope="col" class="number">
              From its side’s mean
            </th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {[...judgement.spokes.values()].map((spoke) => (
            <tr key={spoke.number} aria-selected={spoke.number === selected}>
              <th scope="row">
                <button
                  type="button"
                  class="button row-button"
                  onClick={() => onSelect(spoke.number)}
                  aria-label={`Details of spoke ${spoke.number}`}
                >
                  {spoke.number}
                </button>
              </th>
              <td>{spoke.side}</td>
              {absolute && (
                <td class="number">
                  {spoke.figure === undefined ? '–' : `${spoke.figure.value} ± ${spoke.figure.plusMinus}`}
                </td>
              )}
              <td class="number">
                {spoke.evenness === undefined
                  ? '–'
                  : `${signed(spoke.evenness.deviationPercent)} ± ${spoke.evenness.expandedPercent.toFixed(1)} %`}
              </td>
              <td>
                <span class="sign-word">
                  <MarkSign mark={spoke.mark} />
                  <span>
                    {spoke.word}
                    {spoke.judged.outlierZ !== undefined && '; stands out'}
                  </span>
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
