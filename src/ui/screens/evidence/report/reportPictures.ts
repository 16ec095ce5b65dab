import { pictureWheel } from '../../../../drawing/pictureWheel.ts';
import { stripDrawing } from '../../../../drawing/stripDrawing.ts';
import type { SvgNode } from '../../../../drawing/svg.ts';
import { wheelDrawing } from '../../../../drawing/wheelDrawing.ts';
import type { Wheel } from '../../../../spokes/wheel.ts';
import { headline } from '../../judge/headline.ts';
import type { Judgement } from '../../judge/judgementOf.ts';
import { stripOf } from '../../judge/stripOf.ts';

/** The report's pictures: the same trees on the page and in files. */
export function reportPictures(
  wheel: Wheel,
  judgement: Judgement,
): { readonly wheel: SvgNode; readonly strip: SvgNode } {
  const label = headline(judgement);
  return {
    wheel: wheelDrawing(
      pictureWheel(judgement.laid, (number) => judgement.spokes.get(number)?.mark ?? 'waiting'),
      { label: `The wheel as heard. ${label}`, letterSize: 20, numberFlagged: true },
    ),
    strip: stripDrawing(stripOf(wheel, judgement), {
      label: `The round unrolled: left side above the line, right side below. ${label}`,
      letterSize: 11,
      width: 640,
    }),
  };
}
