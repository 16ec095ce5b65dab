import { inMillimetres, type LengthUnit, lengthIn, type Metres } from '../units.ts';
import { scale } from './axis.ts';
import { dimensionLine } from './dimensionLine.ts';
import type { MemberPicture } from './memberPicture.ts';
import { circle, group, line, path, rectangle, sheet, text } from './shapes.ts';
import type { SvgNode } from './svg.ts';

export interface MemberOptions {
  readonly label: string;
  readonly lengthUnit: LengthUnit;
  readonly letterSize?: number;
  /** What of it rings: with the crossing held the part outside it, else the whole. */
  readonly ringing?: 'outsideCrossing' | 'whole';
}

const WIDTH = 400;
const AXIS_Y = 92;
const THICKNESS_TIMES = 6;
const LEFT = 26;
const RIGHT = 384;

/**
 * One spoke as a part drawing: length to scale, thickness six times as large (said on the sheet), its sections, the touching crossing,
 * the nipple, and the dimensions that the answer depends on, the thick ends among them.
 * @param member lengths in metres from the hub's support to the rim's support
 * @throws RangeError if a length is not positive
 */
export function memberDrawing(member: MemberPicture, options: MemberOptions): SvgNode {
  if (!(member.supportLength > 0)) throw new RangeError(`supportLength is ${member.supportLength} m; expected > 0`);
  const size = options.letterSize ?? 14;
  const x = scale(0, member.supportLength, LEFT, RIGHT);
  const thick = (width: Metres) =>
    Math.max(2, (inMillimetres(width) * THICKNESS_TIMES * (RIGHT - LEFT)) / inMillimetres(member.supportLength));
  const figure = (length: Metres) => lengthIn(length, options.lengthUnit).toFixed(options.lengthUnit === 'mm' ? 1 : 3);
  const crossing = member.crossingFromHub;
  const nipple = member.nippleExposed ?? 0;
  const ringsFrom = options.ringing === 'outsideCrossing' && crossing !== undefined ? crossing : 0;
  const first = member.sections[0];
  const unit = options.lengthUnit;
  const ends = endLengths(member);
  // Dimensions from the inside out: ends, crossing, whole.
  const inner = AXIS_Y + 38;
  const middle = inner + (ends === undefined ? 0 : size + 16);
  const outer = middle + (crossing === undefined ? 0 : size + 15);
  const height = outer + 22 + size;
  // Without the noughts of a whole figure: there is little room.
  const short = (length: number) => String(Number(figure(length as Metres)));
  return sheet(
    WIDTH,
    height,
    options.label,
    line({ x: 2, y: AXIS_Y }, { x: WIDTH - 2, y: AXIS_Y }, 'centre'),
    group('ringing', rectangle(x(ringsFrom), AXIS_Y - 19, x(member.supportLength) - x(ringsFrom), 38, 'band')),
    group('sections', sectionShapes(member, x, thick, size)),
    hubEnd(member.hubEnd, first === undefined ? 4 : thick(first.width)),
    nipple > 0 &&
      rectangle(x(member.supportLength - nipple), AXIS_Y - 11, RIGHT - x(member.supportLength - nipple), 22, 'metal'),
    rim(),
    crossing !== undefined &&
      group(
        'crossing',
        line({ x: x(crossing) - 9, y: AXIS_Y - 26 }, { x: x(crossing) + 9, y: AXIS_Y + 26 }, 'bold'),
        circle({ x: x(crossing), y: AXIS_Y }, 3, 'solid'),
      ),
    ends !== undefined &&
      group(
        'ends',
        ends.hub > 0 && dimensionLine(LEFT, x(ends.hub), AXIS_Y + 18, inner, short(ends.hub), size),
        ends.rim > 0 &&
          dimensionLine(
            x(member.supportLength - nipple - ends.rim),
            x(member.supportLength - nipple),
            AXIS_Y + 18,
            inner,
            short(ends.rim),
            size,
            'left',
          ),
      ),
    crossing !== undefined && dimensionLine(LEFT, x(crossing), AXIS_Y + 18, middle, figure(crossing), size),
    crossing !== undefined &&
      dimensionLine(
        x(crossing),
        RIGHT,
        AXIS_Y + 18,
        middle,
        `${figure((member.supportLength - crossing) as Metres)} free`,
        size,
      ),
    dimensionLine(LEFT, RIGHT, AXIS_Y + 18, outer, `${figure(member.supportLength)} ${unit}`, size),
    text({ x: RIGHT, y: height - 3 }, `thickness drawn × ${THICKNESS_TIMES}`, 'letter', 'end', size),
  );
}

/** What is seen of the ends on both sides of the longest section, as a ruler would find it: at the rim up to the nipple. Undefined for one section. */
function endLengths({ sections }: MemberPicture): { readonly hub: number; readonly rim: number } | undefined {
  if (sections.length < 2) return undefined;
  const longest = sections.reduce((best, one, i) => (one.length > (sections[best]?.length ?? 0) ? i : best), 0);
  const sum = (part: MemberPicture['sections']) => part.reduce((total, one) => total + one.length, 0);
  return { hub: sum(sections.slice(0, longest)), rim: sum(sections.slice(longest + 1)) };
}

/** Each section as a block; its figure above, on alternating heights where sections are short. */
function sectionShapes(
  member: MemberPicture,
  x: (m: number) => number,
  thick: (w: Metres) => number,
  size: number,
): SvgNode[] {
  let from = 0;
  let room = -Infinity;
  let raised = false;
  return member.sections.flatMap((section) => {
    const a = x(from);
    const b = x(from + section.length);
    from += section.length;
    const t = thick(section.width);
    const middle = (a + b) / 2;
    const half = (section.figure.length * size * 0.52) / 2;
    raised = middle - half < room ? !raised : false;
    room = middle + half + 4;
    const y = raised ? size : size * 2.2;
    const at = Math.min(Math.max(middle, half + 2), WIDTH - half - 2);
    return [
      rectangle(a, AXIS_Y - t / 2, b - a, t, 'metal'),
      line({ x: at, y: y + 3 }, { x: middle, y: AXIS_Y - t / 2 }, 'thin'),
      text({ x: at, y }, section.figure, 'letter', 'middle', size),
    ];
  });
}

function hubEnd(kind: MemberPicture['hubEnd'], thick: number): SvgNode {
  const t = Math.min(thick, 16);
  return kind === 'elbow'
    ? group(
        'hub end',
        path(`M${LEFT} ${AXIS_Y - t / 2}q-6 0 -6 6v${t + 10}h-5`, 'outline'),
        path(`M${LEFT - 13} ${AXIS_Y + t / 2 + 6}v10`, 'bold'),
      )
    : group('hub end', path(`M${LEFT} ${AXIS_Y - 10}h-5v20h5z`, 'metal'));
}

const rim = (): SvgNode => path(`M${RIGHT} ${AXIS_Y - 24}v48m0 -48l8 -4m-8 16l8 -4m-8 16l8 -4m-8 16l8 -4`, 'outline');
