import { useState } from 'preact/hooks';
import type { Side } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import { setAt } from './atPath.ts';
import { EVEN_PATTERNS, type EvenPattern, evenSides, patternOf } from './evenSides.ts';
import { parseDecimal } from './parseDecimal.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** Spoke count and sides: all that evenness needs. */
export function EvennessPart({ form }: { readonly form: DescribeForm }) {
  const layout = form.wheel.layout;
  const sides: readonly Side[] = layout.kind === 'evenness' ? layout.sides : [];
  const [count, setCount] = useState(String(sides.length));
  const [pattern, setPattern] = useState<EvenPattern>(patternOf(sides));
  const [wrong, setWrong] = useState<string | undefined>(undefined);
  const first = sides[0] ?? 'right';
  const put = (raw: string, nextPattern: EvenPattern, firstSide: Side) => {
    setCount(raw);
    setPattern(nextPattern);
    const number = parseDecimal(raw);
    if (number === undefined || !Number.isInteger(number) || number < 4 || number > 144) {
      setWrong('A whole number from 4 to 144 is needed.');
      return;
    }
    const made = evenSides(number, nextPattern, firstSide, firstSide);
    setWrong(
      made === undefined
        ? nextPattern === 'twoToOne'
          ? 'Two to one needs a number that divides by three.'
          : 'Left and right alternate, so the number must be even.'
        : undefined,
    );
    if (made !== undefined) form.change((wheel) => setAt(wheel, 'layout.sides', made));
  };
  return (
    <>
      <Field label="Spokes" kind="whole" value={count} wrong={wrong} onInput={(raw) => put(raw, pattern, first)} />
      <Choices
        legend="Round the rim"
        value={pattern}
        options={EVEN_PATTERNS}
        onChange={(next) => put(count, next, first)}
      />
      <Choices<Side>
        legend={
          pattern === 'twoToOne'
            ? 'First spoke after the valve hole, and fuller side'
            : 'First spoke after the valve hole'
        }
        value={first}
        options={[
          { value: 'left', label: 'left' },
          { value: 'right', label: 'right' },
        ]}
        onChange={(side) => put(count, pattern, side)}
      >
        Each side is compared with itself only. No tension in {form.units.tension} is shown or implied.
      </Choices>
    </>
  );
}
