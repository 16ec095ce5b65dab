import { crossingSupport } from '../../../physics/crossingSupport.ts';
import type { Ends, Member } from '../../../physics/member.ts';
import { modes } from '../../../physics/modes.ts';
import { describeLaidSpoke } from '../../../spokes/describeMember.ts';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { Side, Wheel } from '../../../spokes/wheel.ts';
import { newtonMetresPerRadian, newtons, newtonsPerMetre } from '../../../units.ts';
import { getAt, setAt } from './atPath.ts';
import type { FigureField, Units } from './figureField.ts';

/** An ordinary tension, at which the effects are told. `common practice` */
const AT_N = 1000;
/** Ends neither free nor firm; the effect of a length hardly depends on it. */
const MIDDLE = newtonMetresPerRadian(20);
const ENDS: Ends = { hub: { inPlane: MIDDLE, across: MIDDLE }, rim: { inPlane: MIDDLE, across: MIDDLE } };

/**
 * How far the tension moves that one and the same tone means, when this field is changed by one step (1 mm, or one twentieth of an inch).
 * The first mode along the rim is computed from the description as it stands, with the field changed, and with the tension changed;
 * the ratio of the two slopes is the answer.
 * @returns percent per step, or undefined where the field cannot be changed so or touches no tension
 */
export function effectPercent(wheel: Wheel, field: FigureField, stepMm: number, side: Side): number | undefined {
  const value = getAt(wheel, field.path);
  const here = exampleMember(wheel, side);
  if (typeof value !== 'number' || here === undefined) return undefined;
  const there = exampleMember(setAt(wheel, field.path, value + stepMm), side);
  if (there === undefined) return undefined;
  const { tone, perTension } = slopeOf(wheel, side, here);
  const perStep = Math.log(firstTone(there, AT_N)) - Math.log(tone);
  // The tone stays: what the field gives, the tension must take back.
  return (Math.exp(-perStep / perTension) - 1) * 100;
}

/** First tone and its slope over tension, kept as long as the wheel is the same: every field of a screen asks for them. */
function slopeOf(wheel: Wheel, side: Side, member: Member): { readonly tone: number; readonly perTension: number } {
  const bySide = kept.get(wheel) ?? new Map<Side, { readonly tone: number; readonly perTension: number }>();
  kept.set(wheel, bySide);
  const known = bySide.get(side);
  if (known !== undefined) return known;
  const tone = firstTone(member, AT_N);
  const made = { tone, perTension: (Math.log(firstTone(member, AT_N * 1.01)) - Math.log(tone)) / Math.log(1.01) };
  bySide.set(side, made);
  return made;
}
const kept = new WeakMap<Wheel, Map<Side, { readonly tone: number; readonly perTension: number }>>();

/** The same as a sentence, in the unit of the field. */
export function effectSentence(wheel: Wheel, field: FigureField, units: Units, side: Side): string | undefined {
  const step = units.length === 'mm' ? { mm: 1, word: '1 mm' } : { mm: 1.27, word: '0.05 in' };
  const percent = effectPercent(wheel, field, step.mm, side);
  if (percent === undefined) return undefined;
  const size = Math.abs(percent);
  return size < 0.05
    ? `${step.word} more here moves the tension by less than 0.1 %.`
    : `${step.word} more here is ${percent < 0 ? '−' : '+'}${size.toFixed(1)} % of tension.`;
}

function exampleMember(wheel: Wheel, side: Side): Member | undefined {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) return undefined;
  const spoke = laid.spokes.find((one) => one.side === side);
  if (spoke === undefined) return undefined;
  const described = describeLaidSpoke(wheel, spoke);
  return described.ok ? described.described.member : undefined;
}

function firstTone(member: Member, tensionN: number): number {
  const crossing =
    member.crossingFromHub === undefined
      ? ({ kind: 'none' } as const)
      : ({ kind: 'support', stiffness: newtonsPerMetre(crossingSupport(member)) } as const);
  const [first] = modes(member, newtons(tensionN), ENDS, 'inPlane', crossing, 1);
  if (first === undefined) throw new RangeError('no mode was found; expected at least one');
  return first;
}
