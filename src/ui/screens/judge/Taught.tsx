import type { Learned } from '../../../physics/spokeTones.ts';
import type { Wheel } from '../../../spokes/wheel.ts';

interface Props {
  readonly wheel: Wheel;
  /** By group: side and kind. */
  readonly learned: Readonly<Record<string, Learned>> | undefined;
}

/** A group by its side and, where the side has more than one, its kind. */
function groupName(wheel: Wheel, group: string, all: readonly string[]): string {
  const [side = ''] = group.split(' ', 1);
  const kindId = group.slice(side.length + 1);
  const name = side === 'left' ? 'Left side' : 'Right side';
  const several = all.filter((one) => one.startsWith(`${side} `)).length > 1;
  return several ? `${name}, ${wheel.kinds[kindId]?.name ?? kindId}` : name;
}

const plusMinus = ({ value, u }: Learned['hubEnd'], digits = 2): string =>
  `${value.toFixed(digits)} ± ${(2 * u).toFixed(digits)}`;

/** What the tones and the known tensions taught of each side. */
export function Taught({ wheel, learned = {} }: Props) {
  const groups = Object.entries(learned);
  if (groups.length === 0) return null;
  const names = groups.map(([group]) => group);
  return (
    <details class="part">
      <summary>
        What the wheel taught{' '}
        <span class="gist">
          {wheel.calibrations.length === 0 ? 'no known tension' : `${wheel.calibrations.length} known`}
        </span>
      </summary>
      {groups.map(([group, one]) => (
        <section key={group} aria-label={`${groupName(wheel, group, names)}, what the tones taught`}>
          <h3>{groupName(wheel, group, names)}</h3>
          <p>
            Ends, from 0 for hinged to 1 for clamped: at the rim {plusMinus(one.rimEnd)}, at the hub{' '}
            {plusMinus(one.hubEnd)}.
          </p>
          <p>
            Against the description: mass × {plusMinus(one.massFactor, 3)}, bending stiffness ×{' '}
            {plusMinus(one.stiffnessFactor, 3)}.
          </p>
          <p>
            {one.degreesOfFreedom === 1 ? '1 degree' : `${one.degreesOfFreedom} degrees`} of freedom: figures heard or
            known beyond those that had to be found.
          </p>
        </section>
      ))}
    </details>
  );
}

/** Said where a known tension and the description cannot both be right. */
export function Contradictions({ wheel, learned = {} }: Props) {
  const wrong = Object.entries(learned).filter(([, one]) => one.contradiction);
  if (wrong.length === 0) return null;
  const names = Object.keys(learned);
  return (
    <div class="note caution">
      <p>
        <strong>
          {wrong.map(([group]) => groupName(wheel, group, names)).join(', ')}: a known tension and the description
          contradict each other.
        </strong>{' '}
        They differ by more than both allow. Check the load, its unit and which spoke it was; then the spoke kind, its
        mass and the lengths. Until they agree, believe neither.
      </p>
    </div>
  );
}
