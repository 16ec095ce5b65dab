import type { ReportView } from '../../../../spokes/reportView.ts';
import { tonesByMode } from '../../../../spokes/tonesByMode.ts';
import type { Judgement } from '../../judge/judgementOf.ts';
import { signed } from '../../judge/showTension.ts';
import { EVENNESS_WORDS, LIMIT_WORDS } from '../../judge/verdictWords.ts';
import { inUnit } from '../inUnit.ts';
import { WideTable } from '../WideTable.tsx';

interface Props {
  readonly report: ReportView;
  readonly judgement: Judgement;
}

/** A line a spoke; the head repeats on every sheet of paper. */
export function SpokeRows({ report, judgement }: Props) {
  const { unit, kind } = judgement;
  const absolute = kind === 'tension';
  return (
    <WideTable label="Every spoke">
      <table class="spoke-rows">
        <thead>
          <tr>
            <th scope="col">Spoke</th>
            {absolute && (
              <th scope="col" class="number">
                Tension ± U, {unit}
              </th>
            )}
            <th scope="col" class="number">
              From mean ± U, %
            </th>
            {absolute && <th scope="col">Against the limits</th>}
            <th scope="col">Evenness</th>
            <th scope="col" class="number">
              Plucks
            </th>
            {absolute && <th scope="col">Mode: tone used, Hz (mean of its plucks)</th>}
          </tr>
        </thead>
        <tbody>
          {report.spokes.map(({ judged, plucks, tones }) => {
            const view = judgement.spokes.get(judged.number);
            const { reading, limit } = judged;
            const evenness = view?.evenness;
            const place = `${judged.number} ${judged.side === 'left' ? 'L' : 'R'}`;
            if (absolute ? reading?.ok !== true : evenness === undefined)
              return (
                <tr key={judged.number}>
                  <th scope="row">{place}</th>
                  <td colSpan={absolute ? 6 : 3} class="words">
                    {view?.whyNot?.sentence ?? view?.word ?? 'not heard'}
                  </td>
                </tr>
              );
            return (
              <tr key={judged.number}>
                <th scope="row">{place}</th>
                {absolute && reading?.ok === true && (
                  <td class="number">
                    {inUnit(reading.tensionN, unit)} ± {inUnit(2 * Math.hypot(reading.uOwnN, reading.uCommonN), unit)}
                  </td>
                )}
                <td class="number">
                  {evenness === undefined
                    ? '–'
                    : `${signed(evenness.deviationPercent)} ± ${evenness.expandedPercent.toFixed(1)}`}
                </td>
                {absolute && <td>{limit === undefined ? '–' : LIMIT_WORDS[limit.word]}</td>}
                <td>
                  {evenness === undefined ? '–' : EVENNESS_WORDS[evenness.word]}
                  {judged.outlierZ === undefined ? '' : ', stands out'}
                </td>
                <td class="number">{absolute ? plucks : (view?.heard ?? '')}</td>
                {absolute && (
                  <td class="words">
                    {tonesByMode(tones)
                      .map(
                        (tone) =>
                          `${tone.family ? `${tone.family} ` : ''}${tone.mode}:\u00a0${tone.frequencyHz.toFixed(1)}`,
                      )
                      .join(', ')}
                  </td>
                )}
              </tr>
            );
          })}
        </tbody>
      </table>
    </WideTable>
  );
}
