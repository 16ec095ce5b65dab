import { MarkSign } from '../../parts/MarkSign.tsx';
import type { Judgement } from './judgementOf.ts';
import { signed } from './showTension.ts';

interface Props {
  readonly judgement: Judgement;
  readonly selected: number | undefined;
  readonly onSelect: (spoke: number, from: HTMLElement) => void;
}

/** Every spoke with number, ±, unit, and the verdicts that follow. */
export function SpokeTable({ judgement, selected, onSelect }: Props) {
  const absolute = judgement.kind === 'tension';
  return (
    <>
      {absolute && (
        <p class="soft">Below each tension: its distance from its side’s mean, where what the side shares cancels.</p>
      )}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than the screen must scroll by keys */}
      <section class="table-frame" aria-label="All spokes" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">Spoke</th>
              <th scope="col">{absolute ? `Tension, ${judgement.unit}` : 'From its side’s mean'}</th>
              <th scope="col">Verdict</th>
            </tr>
          </thead>
          <tbody>
            {[...judgement.spokes.values()].map((spoke) => (
              <tr key={spoke.number} class={spoke.number === selected ? 'selected' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    class="button row-button"
                    onClick={(event) => onSelect(spoke.number, event.currentTarget)}
                    aria-label={`Details of spoke ${spoke.number}`}
                  >
                    {spoke.number}
                  </button>{' '}
                  <span class="side-word">{spoke.side}</span>
                </th>
                <td>
                  {spoke.figure === undefined
                    ? '–'
                    : `${spoke.figure.value} ± ${spoke.figure.plusMinus}${absolute ? '' : ' %'}`}
                  {absolute && spoke.evenness !== undefined && (
                    <span class="deviation">
                      {signed(spoke.evenness.deviationPercent)}{' '}
                      <span class="unbroken">± {spoke.evenness.expandedPercent.toFixed(1)} %</span>
                    </span>
                  )}
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
    </>
  );
}
