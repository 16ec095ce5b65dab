import { inDegrees, inMillimetres } from '../units.ts';
import type { LaidSpoke } from './laidSpoke.ts';
import type { ListedLayout, ListedSpoke } from './wheel.ts';

/**
 * A list with one more spoke, placed after the given one.
 *
 * It is like the spoke two places before the new one, which on most wheels is its neighbour of the same side, but touches no other yet. Spokes
 * behind it move on by one number, and so do those that touch them. Where rim angles are given, the new one lies midway.
 *
 * @param after Number of the spoke before it, from 1; 0 puts it first.
 * @throws RangeError outside 0 to the number of spokes
 */
export function addSpoke(layout: ListedLayout, after: number): ListedLayout {
  const count = layout.spokes.length;
  if (!Number.isInteger(after) || after < 0 || after > count)
    throw new RangeError(`after ${after}: expected 0 to ${count}`);
  const like = layout.spokes[(after - 2 + count) % count] ?? layout.spokes[0];
  if (like === undefined) throw new RangeError('spokes is empty; expected one at least');
  const { crossingFromHubMm: _, crossingPartner: __, rimAngleDeg: ___, ...alone } = like;
  const angle = between(layout.spokes, after);
  const added: ListedSpoke = { ...alone, ...(angle === undefined ? {} : { rimAngleDeg: angle }) };
  const moved = layout.spokes.map((spoke) =>
    spoke.crossingPartner !== undefined && spoke.crossingPartner > after
      ? { ...spoke, crossingPartner: spoke.crossingPartner + 1 }
      : spoke,
  );
  return { ...layout, spokes: moved.toSpliced(after, 0, added) };
}

/**
 * A list without one spoke. The one that touched it touches none any more; numbers behind it move back by one.
 *
 * @param number From 1.
 * @throws RangeError where there is no such spoke
 */
export function removeSpoke(layout: ListedLayout, number: number): ListedLayout {
  if (layout.spokes[number - 1] === undefined)
    throw new RangeError(`spoke ${number}: expected 1 to ${layout.spokes.length}`);
  const spokes = layout.spokes.toSpliced(number - 1, 1).map((spoke): ListedSpoke => {
    const { crossingPartner: partner, ...rest } = spoke;
    if (partner === undefined) return spoke;
    if (partner !== number) return partner > number ? { ...spoke, crossingPartner: partner - 1 } : spoke;
    const { crossingFromHubMm: _, ...alone } = rest;
    return alone;
  });
  return { ...layout, spokes };
}

/** Any wheel of known lengths as a list, spoke by spoke; undefined where a length is not known. */
export function asList(laid: readonly LaidSpoke[]): ListedLayout | undefined {
  const spokes = laid.flatMap((spoke): ListedSpoke[] =>
    spoke.supportLength === undefined
      ? []
      : [
          {
            side: spoke.side,
            rimAngleDeg: rounded(inDegrees(spoke.rimAngle)),
            supportLengthMm: rounded(inMillimetres(spoke.supportLength)),
            ...(spoke.crossingFromHub === undefined
              ? {}
              : { crossingFromHubMm: rounded(inMillimetres(spoke.crossingFromHub)) }),
            ...(spoke.crossingPartner === undefined ? {} : { crossingPartner: spoke.crossingPartner }),
            ...(spoke.kindId === undefined ? {} : { kindId: spoke.kindId }),
            ...(spoke.bracingAngle === undefined ? {} : { bracingAngleDeg: rounded(inDegrees(spoke.bracingAngle)) }),
          },
        ],
  );
  return spokes.length === laid.length ? { kind: 'list', spokes } : undefined;
}

/** To a hundredth: finer than any ruler or protractor. */
const rounded = (value: number): number => Number(value.toFixed(2));

/** Midway between the neighbours, over the valve hole where need be; undefined where angles are not given. */
function between(spokes: readonly ListedSpoke[], after: number): number | undefined {
  const count = spokes.length;
  const before = spokes[(after - 1 + count) % count]?.rimAngleDeg;
  const behind = spokes[after % count]?.rimAngleDeg;
  if (before === undefined || behind === undefined) return undefined;
  const gap = (((behind - before) % 360) + 360) % 360;
  return rounded((before + gap / 2) % 360);
}
