import { MarkSign } from '../../parts/MarkSign.tsx';
import { byMark, legendWord } from './headline.ts';
import type { Judgement } from './judgementOf.ts';

/** Every sign on the drawings with its word and the spokes that carry it. */
export function Legend({ judgement }: { readonly judgement: Judgement }) {
  const spokes = [...judgement.spokes.values()];
  return (
    <ul class="legend">
      {byMark(spokes).map(({ mark, numbers }) => (
        <li key={mark}>
          <MarkSign mark={mark} />
          <span>
            <strong>{legendWord(mark, spokes)}</strong>:{' '}
            <span class="unbroken">
              {numbers.length === spokes.length
                ? 'all'
                : numbers.length > 12
                  ? `${numbers.length} spokes`
                  : numbers.join(', ')}
            </span>
          </span>
        </li>
      ))}
    </ul>
  );
}
