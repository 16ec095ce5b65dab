import type { SpokeKind } from '../../../spokes/wheel.ts';

/** Drawn wire keeps its diameter within some 0.02 mm, 2 % of the mass of 2.0 mm, and a scale adds 1 %. `common practice` */
const WIRE_VARIES_PERCENT = 3;

/**
 * What a scale says of a kind beside its dimensions; where round wire differs by more than it varies, what may be wrong.
 * @param factor mass of the section that was sought, weighed over computed
 */
export function weighingText(kind: SpokeKind, factor: number): string {
  const sought = kind.sections.find((section) => section.lengthMm === 'rest') ?? kind.sections[0];
  const percent = 100 * Math.abs(factor - 1);
  const name = kind.sections.length > 1 ? `the ${sought?.name}` : 'the wire';
  const fact = `Weighed, ${name} is ${percent.toFixed(1)} % ${factor < 1 ? 'lighter' : 'heavier'} than its dimensions say.`;
  const round = sought?.layers.every(({ shape }) => shape.form === 'round') ?? false;
  return round && percent > WIRE_VARIES_PERCENT
    ? `${fact} That is more than wire varies: measure its diameter again, and how far its ends reach.`
    : fact;
}
