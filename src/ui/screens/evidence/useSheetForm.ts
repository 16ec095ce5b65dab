import { useMemo } from 'preact/hooks';
import { FORCE_BEHIND } from '../../../spokes/figureCell.ts';
import { maybeThousand, parseAlone } from '../../../spokes/parseFigure.ts';
import { readClaims } from '../../../spokes/readClaims.ts';
import { readSheet, type SheetTable } from '../../../spokes/readSheet.ts';
import { NEEDED_STATEMENTS, type Sheet, type SheetClaim, type SheetStatement } from '../../../spokes/sheet.ts';
import { unitIn } from '../../../spokes/sheetColumns.ts';
import type { TensionUnit } from '../../../units.ts';
import { useActions, useStore } from '../../store/useStore.ts';

const FORM = 'sheet check';
const NOTHING: Readonly<Record<string, string>> = {};

/** Statements that the person ticks; unit and limit follow from their own fields. */
export const TICKED = NEEDED_STATEMENTS.filter((one) => one !== 'unit' && one !== 'limit');
export const CLAIMS = (['left', 'right', 'wheel'] as const).flatMap((of) =>
  (['mean', 'spread'] as const).map((what) => ({ of, what, key: `${what} ${of}` })),
);

export interface SheetForm {
  readonly raw: (key: string) => string;
  readonly set: (key: string, value: string) => void;
  readonly clear: () => void;
  readonly table: SheetTable;
  readonly tones: SheetTable | undefined;
  /** As it stands on the sheet; absent while the table cannot be read. */
  readonly sheet: Sheet | undefined;
  readonly wrong: Readonly<Record<string, string>>;
}

/** The form's raw text, kept as a draft, and the sheet that it says. */
export function useSheetForm(): SheetForm {
  const actions = useActions();
  const fields = useStore((state) => state.wheels.drafts[FORM]) ?? NOTHING;
  const form = useMemo(() => readForm(fields), [fields]);
  return {
    raw: (key) => fields[key] ?? '',
    set: (key, value) => actions.setDraft(FORM, { ...fields, [key]: value }),
    clear: () => actions.clearDraft(FORM),
    ...form,
  };
}

function readForm(fields: Readonly<Record<string, string>>): Pick<SheetForm, 'table' | 'tones' | 'sheet' | 'wrong'> {
  const table = readSheet(fields.table ?? '');
  const tones = (fields.tones ?? '').trim() === '' ? undefined : readSheet(fields.tones ?? '', 'tones');
  const wrong: Record<string, string> = {};
  const claims: SheetClaim[] = [];
  for (const { of, what, key } of CLAIMS) {
    const read = readClaims(fields[key] ?? '', of, what);
    claims.push(...read.claims);
    if (read.wrong.length > 0)
      wrong[key] = `“${read.wrong.join('”, “')}” cannot be read as one figure; write thousands without a sign.`;
  }
  const figure = (key: string): number | undefined => {
    const raw = (fields[key] ?? '').trim();
    if (raw === '') return undefined;
    const bare = raw.replace(FORCE_BEHIND, '');
    const value = parseAlone(bare);
    if (maybeThousand(bare)) wrong[key] = `“${bare}” may be a thousand or a decimal; write thousands without a sign.`;
    else if (value === undefined || value <= 0)
      wrong[key] = 'A figure above zero, with its unit or without, or nothing.';
    return wrong[key] === undefined ? value : undefined;
  };
  const maximum = figure('maximum');
  const minimum = figure('minimum');
  const stated = unitOf(fields.unit);
  const claimed = new Set(claims.flatMap((claim) => claim.unit ?? []));
  const said = table.unit ?? (claimed.size === 1 ? [...claimed][0] : undefined);
  const unit = fields.unit === undefined || fields.unit === '' ? said : stated;
  const limitUnit = unitOf(fields.limitUnit) ?? unitIn(fields.maximum ?? '') ?? unitIn(fields.minimum ?? '');
  const states: SheetStatement[] = TICKED.filter((one) => fields[one] === 'yes');
  const tonesHz = tones === undefined ? table.tonesHz : tones.ok ? tones.tonesHz : undefined;
  for (const side of ['left', 'right'] as const) {
    const given = tones?.ok ? (tones.tonesHz?.[side].length ?? 0) : 0;
    if (given > table[side].length && table.ok)
      wrong.tones = `There are ${given} lines of tones on the ${side} side and ${table[side].length} tensions: those beyond belong to no spoke of the table.`;
  }
  const filled = table.left.length + table.right.length > 0;
  const sheet: Sheet | undefined =
    filled && table.ok
      ? {
          left: table.left,
          right: table.right,
          decimals: table.decimals,
          repeated: table.repeated,
          ...(unit === undefined ? {} : { unit }),
          ...(tonesHz ? { tonesHz } : {}),
          claims,
          ...(maximum === undefined && minimum === undefined
            ? {}
            : {
                limits: {
                  ...(maximum === undefined ? {} : { maximum }),
                  ...(minimum === undefined ? {} : { minimum }),
                  ...(limitUnit === undefined ? {} : { unit: limitUnit }),
                },
              }),
          states,
        }
      : undefined;
  return { table, tones, sheet, wrong };
}

const unitOf = (text: string | undefined): TensionUnit | undefined =>
  text === 'N' || text === 'kgf' || text === 'lbf' ? text : undefined;
