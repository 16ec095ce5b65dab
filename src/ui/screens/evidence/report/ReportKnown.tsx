import type { ReportView } from '../../../../spokes/reportView.ts';
import type { TensionUnit } from '../../../../units.ts';
import { inUnit } from '../inUnit.ts';
import { WideTable } from '../WideTable.tsx';
import { knownSpokeText, knownText } from './knownText.ts';
import { Fact } from './ReportHead.tsx';

/** Tensions known by other means, what became of each, and what each side learned. */
export function ReportKnown({ report, unit }: { readonly report: ReportView; readonly unit: TensionUnit }) {
  const { known, wheel } = report;
  if (known.length === 0) return null;
  return (
    <section>
      <h2>Known tensions</h2>
      <p>
        A known tension is weighed in with its own uncertainty, not obeyed; no reading is multiplied by a factor. A
        loose spoke teaches mass and stiffness, its ends are its own; a spoke in the wheel teaches everything that its
        side shares. By ear, a spoke in the wheel is read with its load weighed in; a loose one by its own tones, its
        load taken as no surer than 15 %, so that a wrong load shows.
      </p>
      <WideTable label="Known tensions">
        <table class="figures">
          <thead>
            <tr>
              <th scope="col">Spoke</th>
              <th scope="col" class="number">
                Load ± U, {unit}
              </th>
              <th scope="col">Known by</th>
              <th scope="col" class="number">
                By ear ± U, {unit}
              </th>
              <th scope="col">What became of it</th>
            </tr>
          </thead>
          <tbody>
            {known.map((one) => {
              const { id, loadN, uLoadN, method } = one.calibration;
              const { outcome } = one;
              return (
                <tr key={id}>
                  <th scope="row">{knownSpokeText(one, wheel)}</th>
                  <td class="number">
                    {inUnit(loadN, unit)} ± {inUnit(2 * uLoadN, unit)}
                  </td>
                  <td>{method || 'not stated'}</td>
                  <td class="number">
                    {outcome.ok
                      ? `${inUnit(outcome.reading.tensionN, unit)} ± ${inUnit(2 * Math.hypot(outcome.reading.uOwnN, outcome.reading.uCommonN), unit)}`
                      : '–'}
                  </td>
                  <td>{knownText(one, wheel)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </WideTable>
      <Taught report={report} />
    </section>
  );
}

/** By side and kind: what its tones and known tensions say of the description, and whether they can be right together. */
function Taught({ report: { members, known } }: { readonly report: ReportView }) {
  return (
    <table class="facts keep">
      <tbody>
        {members.map(({ side, kind, learned, described, uCommonPercent }) => {
          if (learned === undefined) return null;
          const count = known.filter(({ groups }) => groups.includes(described.group)).length;
          const { massRelative, stiffnessRelative } = described.described.uncertainty;
          const factor = (what: string, { value, u }: typeof learned.massFactor, stated: number) =>
            `${what} × ${value.toFixed(3)} ± ${(2 * u).toFixed(3)} (described: ± ${(2 * stated).toFixed(3)})`;
          return (
            <Fact key={described.group} name={`Taught, ${side}: ${kind.name}`}>
              by {count === 0 ? 'its tones alone' : `its tones and ${count} known tension${count === 1 ? '' : 's'}`}:{' '}
              {factor('mass', learned.massFactor, massRelative)},{' '}
              {factor('stiffness', learned.stiffnessFactor, stiffnessRelative)}; degrees of freedom{' '}
              {learned.degreesOfFreedom}; what the side shares is left uncertain by u<sub>common</sub>{' '}
              {uCommonPercent.toFixed(1)} %
              {learned.contradiction && (
                <p class="note caution">
                  A known tension and the description contradict each other: they differ by more than both allow. Load,
                  unit and spoke, or kind, mass and lengths are wrong; until it is known which, believe neither.
                </p>
              )}
            </Fact>
          );
        })}
      </tbody>
    </table>
  );
}
