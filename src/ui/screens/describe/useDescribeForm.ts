import { useEffect, useMemo } from 'preact/hooks';
import type { Wheel } from '../../../spokes/wheel.ts';
import { inMillimetres } from '../../../units.ts';
import { mergeEdit } from '../../store/mergeEdits.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { getAt, setAt } from './atPath.ts';
import { checkDescription, type DescriptionCheck, wrongAt } from './checkDescription.ts';
import { type FigureField, readFigure, showFigure, showWithUnit, type Units } from './figureField.ts';

/** Holds the description as far as it could be read; every other key is a path with what was typed there. */
const WHEEL_KEY = '@wheel';
/** As it was saved when the draft began: what differs from it now was changed by another tab. */
const BASE_KEY = '@base';
const UNITS_KEY = '@units';
const NONE: Readonly<Record<string, string>> = {};

export interface DescribeForm {
  /** As far as it could be read: a field that is wrong keeps its last good figure. */
  readonly wheel: Wheel;
  readonly check: DescriptionCheck;
  readonly units: Units;
  /** What is typed in a field, exactly. */
  raw(field: FigureField): string;
  wrong(field: FigureField): string | undefined;
  /** What another tab saved in its place since the draft began. */
  savedElsewhere(field: FigureField): string | undefined;
  type(field: FigureField, raw: string): void;
  /** Changes something that is chosen, not typed. */
  change(make: (wheel: Wheel) => Wheel): void;
  /** How many fields stand in the way. */
  readonly wrongCount: number;
  readonly changed: boolean;
}

/** The description being edited: raw text and the wheel that could be read from it, kept as a draft so that nothing typed is lost. */
export function useDescribeForm(form: string, saved: Wheel): DescribeForm {
  const actions = useActions();
  const draft = useStore((state) => state.wheels.drafts[form]) ?? NONE;
  const length = useStore((state) => state.preferences.lengthUnit);
  const tension = useStore((state) => state.preferences.tensionUnit);
  const units: Units = useMemo(() => ({ length, tension }), [length, tension]);
  const text = draft[WHEEL_KEY];
  const baseText = draft[BASE_KEY];
  const mine = useMemo(() => (text === undefined ? saved : withHeard(text, saved)), [text, saved]);
  const base = useMemo(() => (baseText === undefined ? saved : withHeard(baseText, saved)), [baseText, saved]);
  const wheel = useMemo(() => (text === undefined ? saved : mergedWheel(base, mine, saved)), [text, base, mine, saved]);
  const check = useMemo(() => checkDescription(wheel), [wheel]);
  const stamp = `${length} ${tension}`;
  const put = (next: Wheel, raws: Readonly<Record<string, string>>) =>
    actions.setDraft(form, {
      ...raws,
      [WHEEL_KEY]: descriptionText(next),
      [BASE_KEY]: baseText ?? descriptionText(saved),
      [UNITS_KEY]: stamp,
    });

  // Typed in another unit: what could be read is shown in the new one, what could not stays as it is.
  const typedStamp = draft[UNITS_KEY];
  useEffect(() => {
    if (typedStamp === undefined || typedStamp === stamp) return;
    const stays = Object.entries(draft).filter(([key]) => key.startsWith('@') || draft[`@wrong ${key}`] === 'yes');
    actions.setDraft(form, { ...Object.fromEntries(stays), [UNITS_KEY]: stamp });
  }, [stamp, typedStamp]);

  const raw = (field: FigureField): string => {
    const typed = draft[field.path];
    if (typed !== undefined) return typed;
    const value = getAt(wheel, field.path);
    return typeof value === 'number' ? showFigure(value, field.quantity, units) : '';
  };
  const wrong = (field: FigureField): string | undefined => {
    const typed = draft[field.path];
    if (typed !== undefined) {
      const read = readFigure(typed, field, units);
      if (!read.ok) return read.wrong;
    }
    return wrongAt(check.wrong, field.path);
  };
  const savedElsewhere = (field: FigureField): string | undefined => {
    const [there, before, here] = [saved, base, wheel].map((one) => getAt(one, field.path));
    if (there === before || there === here) return undefined;
    return typeof there === 'number' ? showWithUnit(there, field.quantity, units) : 'nothing';
  };
  const type = (field: FigureField, typed: string): void => {
    const read = readFigure(typed, field, units);
    const { [`@wrong ${field.path}`]: _, ...rest } = draft;
    put(read.ok ? setFigure(mine, field.path, read.value, exampleLengthMm(check)) : mine, {
      ...rest,
      [field.path]: typed,
      ...(read.ok ? {} : { [`@wrong ${field.path}`]: 'yes' }),
    });
  };
  const unread = Object.keys(draft).filter((key) => key.startsWith('@wrong ')).length;
  return {
    wheel,
    check,
    units,
    raw,
    wrong,
    savedElsewhere,
    type,
    change: (make) => {
      const next = make(mine);
      put(next, withoutOvertaken(draft, mine, next));
    },
    wrongCount: unread + Object.keys(check.wrong).length,
    changed: text !== undefined,
  };
}

/** What was heard and read since is never the draft's to keep. */
const description = ({ rounds: _, calibrations: __, gauges: ___, ...described }: Wheel) => described;
const descriptionText = (wheel: Wheel): string => JSON.stringify(description(wheel));

const heard = ({ rounds, calibrations, gauges }: Wheel) => ({
  rounds,
  calibrations,
  ...(gauges === undefined ? {} : { gauges }),
});
const withHeard = (text: string, saved: Wheel): Wheel => ({ ...(JSON.parse(text) as Wheel), ...heard(saved) });

/** What another tab saved since the draft began comes along; a figure that both changed stands as it is typed here. */
const mergedWheel = (base: Wheel, mine: Wheel, saved: Wheel): Wheel => ({
  ...mergeEdit(description(base), description(mine), description(saved)),
  ...heard(saved),
});

/** What a loose spoke of this wheel is probably cut to: offered, to be corrected. */
const exampleLengthMm = (check: DescriptionCheck): number | undefined => {
  const length = (check.examples.right ?? check.examples.left)?.lengths.support;
  return length === undefined ? undefined : Math.round(inMillimetres(length));
};

/** Text whose figure was changed by a choice no longer shows what the wheel is. */
function withoutOvertaken(
  draft: Readonly<Record<string, string>>,
  before: Wheel,
  after: Wheel,
): Record<string, string> {
  // With another number of spokes the same path means another spoke.
  const renumbered = listed(before) !== listed(after);
  return Object.fromEntries(
    Object.entries(draft).filter(([key]) => {
      const path = key.replace(/^@wrong /, '');
      if (renumbered && path.startsWith('layout.spokes.')) return false;
      return path.startsWith('@') || Object.is(getAt(before, path), getAt(after, path));
    }),
  );
}

const listed = ({ layout }: Wheel): number => (layout.kind === 'list' ? layout.spokes.length : 0);

/** A measured or weighed figure brings its uncertainty along; without the figure neither stays. */
function setFigure(wheel: Wheel, path: string, value: number | undefined, lengthMm0?: number): Wheel {
  if (path.endsWith('.value')) {
    const place = path.slice(0, -'.value'.length);
    return setAt(wheel, place, value === undefined ? undefined : { value, u: RULER_U_MM });
  }
  if (path.endsWith('/weighed/massG')) {
    const place = path.slice(0, -'/massG'.length);
    const known = getAt(wheel, `${place}/lengthMm`);
    const lengthMm = typeof known === 'number' ? known : (lengthMm0 ?? USUAL_LENGTH_MM);
    return setAt(wheel, place, value === undefined ? undefined : { massG: value, uG: SCALE_U_G, lengthMm });
  }
  return setAt(wheel, path, value);
}

/** Standard uncertainty of one spoke's mass where ten are weighed together on a scale of 0.1 g. `common practice` */
const SCALE_U_G = 0.02;
const USUAL_LENGTH_MM = 290;

/** Standard uncertainty of a length taken with a ruler. `common practice` */
const RULER_U_MM = 0.5;
