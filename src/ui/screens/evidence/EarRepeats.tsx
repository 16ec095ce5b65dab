import { useEffect, useState } from 'preact/hooks';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { Repeats } from './Repeats.tsx';
import { repeatedRounds } from './repeatedRounds.ts';
import { roundName } from './roundName.ts';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly unit: TensionUnit;
}

/** The person says which rounds are repeats: only they know that no nipple was turned in between. */
export function EarRepeats({ wheel, round, unit }: Props) {
  const actions = useActions();
  const measured = useStore((state) => state.measured);
  const others = wheel.rounds.filter((one) => one.id !== round.id && one.plucks.length > 0);
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const missing = chosen.filter((id) => measured[id] === undefined);
  useEffect(() => {
    for (const id of missing) actions.measureRound(wheel.id, id);
  }, [missing.join(' '), wheel.id, actions]);
  if (others.length === 0)
    return (
      <p class="soft">
        By ear: one round only, so its repeatability is not known. A second round of the untouched wheel tells it.
      </p>
    );
  const rounds = [round, ...others.filter((one) => chosen.includes(one.id))];
  return (
    <>
      <fieldset class="field no-print">
        <legend>Rounds of the same wheel, no nipple turned in between</legend>
        <div class="choices">
          {others.map((one) => (
            <label key={one.id}>
              <input
                type="checkbox"
                checked={chosen.includes(one.id)}
                onChange={() =>
                  setChosen(chosen.includes(one.id) ? chosen.filter((id) => id !== one.id) : [...chosen, one.id])
                }
              />
              {roundName(one)}
            </label>
          ))}
        </div>
      </fieldset>
      {rounds.some((one) => one.state.tyre !== round.state.tyre) && (
        <p class="note caution">
          The tyre was not the same in all of these rounds; its change counts as a change between rounds.
        </p>
      )}
      {rounds.length > 1 && <p class="soft">Rounds: {rounds.map(roundName).join('; ')}.</p>}
      <Repeats method="By ear" rounds={repeatedRounds(rounds, measured)} unit={unit} />
    </>
  );
}
