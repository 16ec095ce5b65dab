import type { How } from '../../contract.ts';
import { expandLayout, type Laid } from '../../spokes/expandLayout.ts';
import { howToPluck } from '../../spokes/howToPluck.ts';
import type { Wheel } from '../../spokes/wheel.ts';

export interface HowBook {
  /** How a spoke of a wheel is plucked in a round whose crossings are treated so. */
  of(wheel: Wheel, spoke: number, crossing: How['crossing']): How;
}

/** Remembers spoke by spoke how it is plucked: asked at every pluck, worked out once. A changed description begins anew. */
export function howBook(): HowBook {
  const pages = new Map<string, How>();
  let written: readonly unknown[] = [];
  let laid: Laid | undefined;
  return {
    of: (wheel, spoke, crossing) => {
      const about = [wheel.layout, wheel.sides, wheel.kinds];
      if (about.some((part, index) => part !== written[index])) {
        pages.clear();
        written = about;
        laid = expandLayout(wheel.layout);
      }
      const key = `${spoke} ${crossing}`;
      const place = laid?.ok ? laid.spokes[spoke - 1] : undefined;
      const how = pages.get(key) ?? (place ? howToPluck(wheel, place, crossing) : { crossing, direction: 'inPlane' });
      pages.set(key, how);
      return how;
    },
  };
}
