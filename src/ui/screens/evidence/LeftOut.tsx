import type { LeftOutJudgement } from '../../../spokes/judgeLeftOut.ts';
import type { TensionUnit } from '../../../units.ts';
import { inUnit, signedInUnit } from './inUnit.ts';

interface Props {
  readonly leftOut: LeftOutJudgement;
  /** How a spoke was kept out of the calibration that judges it. */
  readonly how: string;
  readonly unit: TensionUnit;
  /** Root mean square before calibrating, where it can be said. */
  readonly beforeN?: number | undefined;
}

const WORD: Readonly<Record<Exclude<LeftOutJudgement['word'], 'asExpected'>, string>> = {
  scattered:
    'That is more than both say of themselves: the gauge sits differently from spoke to spoke, readings were mixed up, or the ear’s own part is larger than stated.',
  untested:
    'The gauge read each spoke once, so that its scatter was taken from these very differences: they do not test it. Read some spokes twice.',
};

const wordText = ({ word, rmsN, expectedN }: LeftOutJudgement): string => {
  if (word !== 'asExpected') return WORD[word];
  return rmsN <= expectedN
    ? 'That is no more than they say of themselves.'
    : 'It differs from that by no more than chance makes of so few spokes.';
};

/** How far ear and gauge differ on spokes that had no part in making them alike. */
export function LeftOut({ leftOut, how, unit, beforeN }: Props) {
  const { count, rmsN, expectedN, word, beyond } = leftOut;
  return (
    <>
      <p>
        {how}: on {count} spokes ear and gauge differ by {inUnit(rmsN, unit, 1)} {unit} (root mean square
        {beforeN === undefined ? '' : `; as the gauge reads, ${inUnit(beforeN, unit, 1)} ${unit}`})
        {word === 'untested' ? '. ' : `; both methods’ scatter lets expect ${inUnit(expectedN, unit, 1)} ${unit}. `}
        {wordText(leftOut)}
      </p>
      {beyond.length > 0 && (
        <p>
          Farther apart than 2 u: spoke{' '}
          {beyond
            .map(
              (one) =>
                `${one.spoke} (${signedInUnit(one.differenceN, unit)} against ±\u00a0${inUnit(2 * one.uN, unit)} ${unit})`,
            )
            .join('; ')}
          . Of 20 spokes about one is so by chance.
        </p>
      )}
    </>
  );
}
