import { useMemo, useState } from 'preact/hooks';
import { farFromSide } from '../../../spokes/farFromSide.ts';
import type { Gauge, GaugeReading } from '../../../spokes/gauge.ts';
import { gaugeReadings } from '../../../spokes/gaugeReadings.ts';
import type { Side } from '../../../spokes/wheel.ts';
import { outOfScale } from './outOfScale.ts';
import { TextIn } from './TextIn.tsx';
import { tableProblemText } from './tableProblemText.ts';

interface Props {
  readonly gauge: Gauge;
  readonly order: readonly number[];
  readonly sides: readonly Side[];
  readonly onTake: (readings: readonly GaugeReading[]) => void;
}

/** Of readings far from their side. */
const MOST_NAMED = 4;

/** A whole table at once: shown as understood, taken over on a yes, all or nothing. */
export function PasteEntry({ gauge, order, sides, onTake }: Props) {
  const [text, setText] = useState('');
  const read = useMemo(() => gaugeReadings(text, order.length, order, sides), [text, order, sides]);
  const empty = text.trim() === '';
  const otherUnit = gauge.scale === 'direct' && read.unit !== undefined && read.unit !== gauge.unit;
  const split =
    gauge.scale === 'direct'
      ? outOfScale(
          read.readings.flatMap(({ values }) => values),
          gauge.unit,
        )
      : undefined;
  const far = gauge.scale === 'direct' ? farFromSide(read.readings, sides) : [];
  return (
    <>
      <TextIn
        label="Readings"
        value={text}
        onText={setText}
        effect="A line a spoke: its number, then one reading or several, or a dash. Or readings alone, in the order of the round. Comma, semicolon, tab, bars or blanks; decimal comma or point."
      />
      {!empty && !read.ok && (
        <div class="note caution" role="alert">
          <p>
            <strong>Nothing is taken over as it stands.</strong>
          </p>
          <ul>
            {read.problems.slice(0, 12).map(({ line, reason, detail }) => (
              <li key={`${line} ${reason} ${detail}`}>{tableProblemText(line, reason, detail)}</li>
            ))}
            {read.problems.length > 12 && <li>and {read.problems.length - 12} more</li>}
          </ul>
        </div>
      )}
      {!empty && read.ok && (
        <div class="note">
          <p>
            {read.readings.length} spokes, {read.readings.reduce((sum, one) => sum + one.values.length, 0)} readings
            {read.unit === undefined ? '' : `, stated in ${read.unit}`}.{' '}
            {read.missing.length === 0
              ? 'No spoke is missing.'
              : `Without a reading: ${read.missing.slice(0, 20).join(', ')}${read.missing.length > 20 ? ' …' : ''}.`}
          </p>
          {read.unread.length > 0 && <p>Not read, for no readings stand there: {read.unread.join('; ')}.</p>}
          {!read.numbered && read.missing.length > 0 && (
            <p>
              The lines name no spokes, so those missing are taken to be the last of the round. If one was left out in
              between, write each spoke’s number in front.
            </p>
          )}
          {far.length > 0 && (
            <p>
              <strong>
                {far
                  .slice(0, MOST_NAMED)
                  .map(
                    ({ spoke, value, middle }) => `Spoke ${spoke} reads ${value} where its side’s middle is ${middle}`,
                  )
                  .join('; ')}
                {far.length > MOST_NAMED ? `; and ${far.length - MOST_NAMED} more` : ''}.
              </strong>{' '}
              Check the unit and the point of each; a slack spoke may read so.
            </p>
          )}
          {split !== undefined && !otherUnit && (
            <p>
              <strong>{split}</strong>
            </p>
          )}
          {otherUnit && (
            <p>
              <strong>
                The table says {read.unit}, the gauge {gauge.unit}.
              </strong>{' '}
              Correct one of them first; nothing is converted by guess.
            </p>
          )}
          <button
            type="button"
            class="button"
            disabled={otherUnit || split !== undefined}
            onClick={() => {
              onTake(read.readings.map(({ spoke, values }) => ({ spoke, values })));
              setText('');
            }}
          >
            Take these readings over
          </button>
        </div>
      )}
    </>
  );
}
