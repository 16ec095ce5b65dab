import type { SvgNode } from '../../drawing/svg.ts';
import { Drawing } from './Drawing.tsx';

/** Of a strip on a phone: its lettering then is as large there as the text around it, and 16 pixels on the narrowest. */
export const NARROW_STRIP = { width: 300, letterSize: 18 } as const;

/** A drawing that shrinks too much on a phone, drawn for both; the page's width chooses, and paper takes the wide one. */
export function TwoWidths({ draw }: { readonly draw: (width: 'wide' | 'narrow') => SvgNode }) {
  return (
    <>
      <div class="drawn-wide">
        <Drawing tree={draw('wide')} />
      </div>
      <div class="drawn-narrow">
        <Drawing tree={draw('narrow')} />
      </div>
    </>
  );
}
