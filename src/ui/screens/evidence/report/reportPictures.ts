import { beforeAfterStrip } from '../../../../drawing/beforeAfterStrip.ts';
import { pictureWheel } from '../../../../drawing/pictureWheel.ts';
import { stripDrawing } from '../../../../drawing/stripDrawing.ts';
import type { SvgNode } from '../../../../drawing/svg.ts';
import { wheelDrawing } from '../../../../drawing/wheelDrawing.ts';
import type { Wheel } from '../../../../spokes/wheel.ts';
import { NARROW_STRIP } from '../../../parts/TwoWidths.tsx';
import { headline } from '../../judge/headline.ts';
import type { Judgement } from '../../judge/judgementOf.ts';
import { stripOf } from '../../judge/stripOf.ts';

/** The report's pictures: the same trees on the page and in files. */
export function reportPictures(
  wheel: Wheel,
  judgement: Judgement,
): { readonly wheel: SvgNode; readonly strip: SvgNode; readonly narrowStrip: SvgNode } {
  const label = headline(judgement);
  const strip = (size: { readonly width: number; readonly letterSize: number }) =>
    stripDrawing(stripOf(wheel, judgement), {
      label: `The round unrolled: left side above the line, right side below. ${label}`,
      ...size,
    });
  return {
    wheel: wheelDrawing(
      pictureWheel(judgement.laid, (number) => judgement.spokes.get(number)?.mark ?? 'waiting'),
      { label: `The wheel as heard. ${label}`, letterSize: 28, numberFlagged: true },
    ),
    strip: strip({ width: 640, letterSize: 11 }),
    narrowStrip: strip(NARROW_STRIP),
  };
}

/** An earlier round as rings, this one as marks. */
export const changePicture = (wheel: Wheel, earlier: Judgement, judgement: Judgement): SvgNode =>
  beforeAfterStrip(stripOf(wheel, earlier), stripOf(wheel, judgement), {
    label: 'Before as rings, after as marks, both on one scale.',
    width: 640,
  });
