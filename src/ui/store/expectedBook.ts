import type { ExpectedAtTension, How } from '../../contract.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import type { MeasurePort } from './ports.ts';

type Expected = readonly ExpectedAtTension[] | undefined;

export interface ExpectedBook {
  /** The tones a spoke would have; undefined where it is not described or could not be computed. Never rejects. */
  of(wheel: Wheel, spoke: number, how: How): Promise<Expected>;
}

/** Remembers expected tones spoke by spoke, so that the next spoke's are there before it is plucked. A changed description begins anew. */
export function expectedBook(measure: MeasurePort): ExpectedBook {
  const pages = new Map<string, Promise<Expected>>();
  let written: readonly unknown[] = [];
  return {
    of: (wheel, spoke, how) => {
      const about = [wheel.id, wheel.layout, wheel.sides, wheel.kinds];
      if (about.some((part, index) => part !== written[index])) {
        pages.clear();
        written = about;
      }
      const page = `${spoke} ${how.crossing} ${how.direction}`;
      const known = pages.get(page);
      if (known) return known;
      // Without expected tones the ear still hears; only its numbering is a guess.
      const asked = measure.expected(wheel, spoke, how).catch(() => undefined);
      pages.set(page, asked);
      return asked;
    },
  };
}
