import { expandLayout } from '../../spokes/expandLayout.ts';
import type { Round, Side, Wheel } from '../../spokes/wheel.ts';
import type { Desk } from './desk.ts';

/** Rounds where they lie: in their wheels, on the shelf. */
export function roundShelf({ get, set }: Pick<Desk, 'get' | 'set'>) {
  const change = (wheelId: string, rounds: (of: Wheel) => readonly Round[]) => {
    const { wheels } = get();
    const list = wheels.list.map((wheel) => (wheel.id === wheelId ? { ...wheel, rounds: rounds(wheel) } : wheel));
    set({ wheels: { ...wheels, list } });
  };
  return {
    find: (id: string): Wheel | undefined => get().wheels.list.find((wheel) => wheel.id === id),
    sidesOf: (wheel: Wheel): readonly Side[] => {
      const laid = expandLayout(wheel.layout);
      return laid.ok ? laid.spokes.map((spoke) => spoke.side) : [];
    },
    /** Puts a round into its wheel; the shelf keeps its order. */
    putRound: (wheelId: string, round: Round) => {
      if (get().wheels.list.some((wheel) => wheel.id === wheelId && wheel.rounds.includes(round))) return;
      change(wheelId, ({ rounds }) =>
        rounds.some((one) => one.id === round.id)
          ? rounds.map((one) => (one.id === round.id ? round : one))
          : [...rounds, round],
      );
    },
    dropRound: (wheelId: string, roundId: string) => {
      if (get().round?.round.id === roundId) set({ round: undefined });
      change(wheelId, ({ rounds }) => rounds.filter((round) => round.id !== roundId));
    },
  };
}
