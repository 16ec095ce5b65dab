import { completeGauge } from './completeGauge.ts';
import { completeKind, completeNipple, kindOfCatalogue, type Problems } from './completeKind.ts';
import { completePluck, completeRound, completeState, NO_TIME } from './completePluck.ts';
import { fingerprint } from './fingerprint.ts';
import { type NewId, ownIds } from './ownIds.ts';
import type { Calibration, LacedLayout, LacedSide, Layout, SideSpokes, SpokeKind, Wheel } from './wheel.ts';
import type { CalibrationInput, LayoutInput, SideInput, WheelInput } from './wheelFileSchema.ts';
import type { WheelProblem } from './wheelProblem.ts';

/** A hole for 2.0 to 2.3 mm wire. `common practice` */
const USUAL_HOLE_MM = 2.6;
/** Evenness target, ± percent of the side's mean. `common practice` */
export const USUAL_TARGET_PERCENT = 5;
const RULER_MM = 0.5;

/** Fills in what a file leaves out, in the file's canonical order of fields. */
export function completeWheel(input: WheelInput): {
  readonly wheel: Wheel;
  readonly problems: readonly WheelProblem[];
  readonly newIds: readonly NewId[];
} {
  const problems: Problems = [];
  const newIds: NewId[] = [];
  const kinds: Record<string, SpokeKind> = {};
  for (const [id, kind] of Object.entries(input.kinds ?? {}))
    kinds[id] = completeKind(kind, id, `kinds.${id}`, problems);
  const state = completeState(input.state);
  const sides = input.sides && {
    left: completeSide(input.sides.left, 'left', kinds, problems),
    right: completeSide(input.sides.right, 'right', kinds, problems),
  };
  if (input.layout.kind === 'list')
    for (const [i, spoke] of input.layout.spokes.entries())
      if (spoke.kindId !== undefined) useKind(spoke.kindId, `layout.spokes.${i}.kindId`, kinds, problems);
  const calibrations = ownIds(
    (input.calibrations ?? []).map((one, i) => completeCalibration(one, i, kinds, problems)),
    'calibration',
    newIds,
  );
  const gauges = input.gauges?.map((one, i) => completeGauge(one, i, state, newIds));
  const layout = completeLayout(input.layout);
  const wheel: Wheel = {
    id: input.id ?? `wheel-${fingerprint(JSON.stringify([input.name, layout]))}`,
    name: input.name ?? 'Wheel',
    ...(input.note === undefined ? {} : { note: input.note }),
    createdAt: input.createdAt ?? NO_TIME,
    changedAt: input.changedAt ?? input.createdAt ?? NO_TIME,
    layout,
    ...(sides ? { sides } : {}),
    kinds,
    targetPercent: input.targetPercent ?? USUAL_TARGET_PERCENT,
    state,
    calibrations,
    ...(gauges === undefined ? {} : { gauges: ownIds(gauges, 'gauge', newIds) }),
    rounds: ownIds(
      (input.rounds ?? []).map((round) => completeRound(round, state)),
      'round',
      newIds,
    ),
  };
  return { wheel, problems, newIds };
}

function completeLayout(input: LayoutInput): Layout {
  if (input.kind !== 'laced') return input as Layout;
  const hubKind = input.hub.kind ?? 'elbow';
  const flange = (side: 'left' | 'right') => {
    const { headOffsetMm, ...one } = input.hub[side];
    return {
      pitchCircleDiameterMm: one.pitchCircleDiameterMm,
      centreDistanceMm: one.centreDistanceMm,
      holeDiameterMm: one.holeDiameterMm ?? (hubKind === 'elbow' ? USUAL_HOLE_MM : 0),
      ...(headOffsetMm === undefined ? {} : { headOffsetMm }),
    };
  };
  const laced = (side: 'left' | 'right'): LacedSide =>
    ({ ...input.lacing[side], touching: input.lacing[side].touching ?? true }) as LacedSide;
  const { pattern = 'alternating', firstSide = 'right', left: _left, right: _right, ...lacing } = input.lacing;
  return {
    kind: 'laced',
    spokeCount: input.spokeCount,
    hub: { kind: hubKind, left: flange('left'), right: flange('right') },
    rim: {
      effectiveDiameterMm: input.rim.effectiveDiameterMm,
      offsetMm: input.rim.offsetMm ?? 0,
      material: input.rim.material ?? 'unknown',
      ...(input.rim.stiffnessClass === undefined ? {} : { stiffnessClass: input.rim.stiffnessClass }),
    },
    lacing: { pattern, firstSide, left: laced('left'), right: laced('right'), ...lacing },
  } as LacedLayout;
}

/** Looks the kind up in the file, then in the catalogue, from where it is copied into the wheel. */
function useKind(id: string, path: string, kinds: Record<string, SpokeKind>, problems: Problems): string {
  if (Object.hasOwn(kinds, id)) return id;
  const known = kindOfCatalogue(id);
  if (known) kinds[id] = known;
  else problems.push({ path, reason: 'unknownKind', detail: id });
  return id;
}

function completeSide(
  input: SideInput,
  side: 'left' | 'right',
  kinds: Record<string, SpokeKind>,
  problems: Problems,
): SideSpokes {
  const path = `sides.${side}`;
  let kindId = input.kindId;
  if (input.kind) {
    kindId ??= input.kind.id ?? `${side} spokes`;
    kinds[kindId] = completeKind(input.kind, kindId, `${path}.kind`, problems);
  } else if (kindId === undefined) problems.push({ path: `${path}.kindId`, reason: 'missing', detail: 'kindId, kind' });
  else useKind(kindId, `${path}.kindId`, kinds, problems);
  const measured = input.measured && {
    ...(input.measured.supportLengthMm ? { supportLengthMm: completeMeasured(input.measured.supportLengthMm) } : {}),
    ...(input.measured.crossingToRimMm ? { crossingToRimMm: completeMeasured(input.measured.crossingToRimMm) } : {}),
  };
  const limits = input.limits && {
    ...(input.limits.minimumN === undefined ? {} : { minimumN: input.limits.minimumN }),
    ...(input.limits.maximumN === undefined ? {} : { maximumN: input.limits.maximumN }),
    unit: input.limits.unit ?? 'N',
    source: input.limits.source ?? 'not stated',
    state: completeState(input.limits.state),
  };
  const { minimumN, maximumN } = input.limits ?? {};
  if (minimumN !== undefined && maximumN !== undefined && minimumN > maximumN)
    problems.push({
      path: `${path}.limits.minimumN`,
      reason: 'limitsContradict',
      detail: `${minimumN} N > ${maximumN} N`,
    });
  return {
    kindId: kindId ?? '',
    nipple: completeNipple(input.nipple, `${path}.nipple`, problems),
    ...(measured ? { measured } : {}),
    ...(input.uncertainty ? { uncertainty: input.uncertainty } : {}),
    ...(input.endStiffness ? { endStiffness: input.endStiffness } : {}),
    ...(limits ? { limits } : {}),
  } as SideSpokes;
}

const completeMeasured = (input: { readonly value: number; readonly u?: number | undefined }) => ({
  value: input.value,
  u: input.u ?? RULER_MM,
});

function completeCalibration(
  input: CalibrationInput,
  index: number,
  kinds: Record<string, SpokeKind>,
  problems: Problems,
): Calibration {
  const id = input.id ?? `calibration-${fingerprint(JSON.stringify(input))}`;
  const path = `calibrations.${index}`;
  if (input.kind === 'inWheel' && input.spoke === undefined)
    problems.push({ path: `${path}.spoke`, reason: 'missing', detail: 'spoke' });
  if (input.kind === 'spare') {
    if (input.kindId === undefined) problems.push({ path: `${path}.kindId`, reason: 'missing', detail: 'kindId' });
    else useKind(input.kindId, `${path}.kindId`, kinds, problems);
    for (const field of ['supportLengthMm', 'pluck'] as const)
      if (input[field] === undefined) problems.push({ path: `${path}.${field}`, reason: 'missing', detail: field });
  }
  const { pluck, morePlucks, method, ...rest } = input;
  const how = { crossing: input.kind === 'spare' ? 'none' : 'held', direction: 'inPlane' } as const;
  return {
    ...rest,
    id,
    method: method ?? 'not stated',
    ...(pluck ? { pluck: completePluck(pluck, `${id}-pluck`, input.spoke ?? 1, how) } : {}),
    ...(morePlucks
      ? { morePlucks: morePlucks.map((one, i) => completePluck(one, `${id}-pluck-${i + 2}`, input.spoke ?? 1, how)) }
      : {}),
  } as Calibration;
}
