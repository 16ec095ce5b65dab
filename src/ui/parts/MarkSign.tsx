import { type SpokeMark, stateMark } from '../../drawing/stateMark.ts';
import { element } from '../../drawing/svg.ts';
import { Drawing } from './Drawing.tsx';

/** The sign of a state beside its word; the word is read out, not the sign. */
export const MarkSign = ({ mark }: { readonly mark: SpokeMark }) => (
  <Drawing
    tree={element(
      'svg',
      { viewBox: '0 0 24 24', class: 'drawing', 'aria-hidden': 'true' },
      ...stateMark(mark, { x: 12, y: 12 }, 0, 8),
    )}
  />
);
