import * as v from 'valibot';
import { TENSION_UNITS } from '../units.ts';

/**
 * What a wheel file may say, before its defaults are filled in. Shape and type only: whether a wheel of these dimensions can be built
 * is `checkWheel.ts`'s question, so that a half-described wheel can be put away and taken up again.
 */
const LONGEST_TEXT = 4000;
const MOST_SPOKES = 144;
const MOST_PIECES = 20;
const MOST_ROUNDS = 500;
const MOST_PLUCKS = 5000;
const MOST_TONES = 64;

const text = v.pipe(v.string(), v.maxLength(LONGEST_TEXT));
const figure = v.pipe(v.number(), v.finite());
const spokeNumber = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(MOST_SPOKES));
const list = <const Item extends v.GenericSchema>(item: Item, most: number) => v.pipe(v.array(item), v.maxLength(most));
const side = v.picklist(['left', 'right']);
const unit = v.picklist(TENSION_UNITS);

const flange = v.object({
  pitchCircleDiameterMm: figure,
  centreDistanceMm: figure,
  holeDiameterMm: v.optional(figure),
  headOffsetMm: v.optional(figure),
});
const lacedSide = v.object({
  crosses: figure,
  touching: v.optional(v.boolean()),
  firstHeading: v.optional(v.picklist(['leading', 'trailing'])),
});
const lacedLayout = v.object({
  kind: v.literal('laced'),
  spokeCount: figure,
  hub: v.object({ kind: v.optional(v.picklist(['elbow', 'straightPull'])), left: flange, right: flange }),
  rim: v.object({
    effectiveDiameterMm: figure,
    offsetMm: v.optional(figure),
    material: v.optional(v.picklist(['aluminium', 'composite', 'steel', 'unknown'])),
    stiffnessClass: v.optional(v.picklist(['light', 'medium', 'stiff'])),
  }),
  lacing: v.object({
    pattern: v.optional(v.picklist(['alternating', 'paired', 'twoToOne'])),
    firstSide: v.optional(side),
    left: lacedSide,
    right: lacedSide,
    moreSide: v.optional(side),
    moreCount: v.optional(figure),
    pairSpacingMm: v.optional(figure),
  }),
});
const listedSpoke = v.object({
  side,
  rimAngleDeg: v.optional(figure),
  supportLengthMm: figure,
  crossingFromHubMm: v.optional(figure),
  crossingPartner: v.optional(spokeNumber),
  kindId: v.optional(text),
  bracingAngleDeg: v.optional(figure),
});
const layout = v.variant('kind', [
  lacedLayout,
  v.object({ kind: v.literal('list'), spokes: list(listedSpoke, MOST_SPOKES) }),
  v.object({ kind: v.literal('evenness'), sides: list(side, MOST_SPOKES) }),
]);

const material = v.union([
  text,
  v.object({
    name: v.optional(text),
    modulusGPa: figure,
    densityKgM3: figure,
    uModulusPercent: v.optional(figure),
    expansionPerK: v.optional(figure),
    uDensityPercent: v.optional(figure),
    shearModulusGPa: v.optional(figure),
  }),
]);
const shape = v.variant('form', [
  v.object({ form: v.literal('round'), diameterMm: figure }),
  v.object({ form: v.literal('oval'), widthMm: figure, thicknessMm: figure }),
  v.object({ form: v.literal('flat'), widthMm: figure, thicknessMm: figure }),
  v.object({ form: v.literal('tube'), outerMm: figure, innerMm: figure }),
]);
const kind = v.object({
  id: v.optional(text),
  name: v.optional(text),
  sections: list(
    v.object({
      name: v.optional(text),
      lengthMm: v.optional(v.union([figure, v.literal('rest')])),
      layers: list(v.object({ shape, material }), MOST_PIECES),
      massPerLengthGPerM: v.optional(figure),
    }),
    MOST_PIECES,
  ),
  lengths: v.optional(v.picklist(['inWheel', 'loose'])),
  weighed: v.optional(v.object({ massG: figure, uG: v.optional(figure), lengthMm: figure })),
  source: v.optional(text),
  head: v.optional(v.picklist(['elbow', 'straight', 'none'])),
});

const nipple = v.union([
  text,
  v.object({
    kind: v.optional(v.picklist(['external', 'internal'])),
    lengthMm: v.optional(figure),
    exposedMm: v.optional(figure),
    outerDiameterMm: v.optional(figure),
    material: v.optional(material),
  }),
]);
const state = v.object({
  tyre: v.optional(v.picklist(['off', 'on', 'unknown'])),
  pressureBar: v.optional(figure),
  temperatureC: v.optional(figure),
});
const measured = v.object({ value: figure, u: v.optional(figure) });
const stiffness = v.object({ lowNmPerRad: figure, highNmPerRad: figure });
const sideSpokes = v.object({
  kindId: v.optional(text),
  kind: v.optional(kind),
  nipple: v.optional(nipple),
  measured: v.optional(v.object({ supportLengthMm: v.optional(measured), crossingToRimMm: v.optional(measured) })),
  uncertainty: v.optional(
    v.object({
      lengthMm: v.optional(figure),
      crossingMm: v.optional(figure),
      sectionsMm: v.optional(figure),
      massPercent: v.optional(figure),
      stiffnessPercent: v.optional(figure),
    }),
  ),
  endStiffness: v.optional(v.object({ hub: v.optional(stiffness), rim: v.optional(stiffness) })),
  limits: v.optional(
    v.object({
      minimumN: v.optional(figure),
      maximumN: v.optional(figure),
      unit: v.optional(unit),
      source: v.optional(text),
      state: v.optional(state),
    }),
  ),
});

const plane = v.picklist(['inPlane', 'across', 'unknown']);
const family = v.picklist(['segment', 'hub', 'pair', 'whole']);
const how = v.object({ crossing: v.optional(v.picklist(['held', 'free', 'none'])), direction: v.optional(plane) });
const tone = v.object({
  frequencyHz: v.pipe(figure, v.gtValue(0)),
  uHz: v.optional(v.pipe(figure, v.gtValue(0))),
  levelDb: v.optional(figure),
  decayS: v.optional(figure),
  snrDb: v.optional(figure),
  pairId: v.optional(figure),
});
const pluck = v.object({
  id: v.optional(text),
  at: v.optional(text),
  spoke: v.optional(spokeNumber),
  how: v.optional(how),
  tones: list(tone, MOST_TONES),
  covarianceHz2: v.optional(list(list(figure, MOST_TONES), MOST_TONES)),
  hypotheses: v.optional(
    list(v.object({ modes: list(figure, MOST_TONES), plane, family, score: figure, guess: v.boolean() }), MOST_TONES),
  ),
  flags: v.optional(
    list(
      v.picklist([
        'firstToneInferred',
        'crossCheckDisagrees',
        'lightlyClipped',
        'otherSpokeRinging',
        'numberingUncertain',
        'humPresent',
        'perhapsNoSpoke',
        'shortRing',
      ]),
      MOST_TONES,
    ),
  ),
  closing: v.optional(v.boolean()),
  putAside: v.optional(v.boolean()),
  recordingId: v.optional(text),
});
const settings = v.object({
  sampleRateHz: figure,
  echoCancellation: v.optional(v.boolean()),
  noiseSuppression: v.optional(v.boolean()),
  autoGainControl: v.optional(v.boolean()),
  deviceLabel: v.optional(text),
});
const round = v.object({
  id: v.optional(text),
  startedAt: v.optional(text),
  finishedAt: v.optional(text),
  person: v.optional(text),
  device: v.optional(text),
  how: v.optional(how),
  state: v.optional(state),
  order: v.optional(v.picklist(['byPlace', 'leftThenRight', 'rightThenLeft', 'free'])),
  firstSpoke: v.optional(spokeNumber),
  plucksToSettle: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(9))),
  plucks: v.optional(list(pluck, MOST_PLUCKS)),
  skipped: v.optional(list(spokeNumber, MOST_SPOKES)),
  settings: v.optional(settings),
});
const calibration = v.object({
  id: v.optional(text),
  kind: v.picklist(['spare', 'inWheel']),
  loadN: v.pipe(figure, v.gtValue(0)),
  uLoadN: v.pipe(figure, v.gtValue(0)),
  method: v.optional(text),
  spoke: v.optional(spokeNumber),
  roundId: v.optional(text),
  kindId: v.optional(text),
  supportLengthMm: v.optional(figure),
  uSupportLengthMm: v.optional(v.pipe(figure, v.gtValue(0))),
  threadEnd: v.optional(v.picklist(['grip', 'nipple'])),
  pluck: v.optional(pluck),
  morePlucks: v.optional(list(pluck, MOST_TONES)),
});

const chart = v.object({
  section: v.optional(text),
  unit: v.optional(unit),
  points: list(v.object({ reading: figure, tension: figure }), MOST_SPOKES),
});
const gauge = v.object({
  id: v.optional(text),
  name: v.optional(text),
  scale: v.optional(v.picklist(['direct', 'chart'])),
  unit: v.optional(unit),
  charts: v.optional(v.object({ left: v.optional(chart), right: v.optional(chart) })),
  uPercent: v.optional(v.pipe(figure, v.gtValue(0))),
  calibrated: v.optional(text),
  rounds: v.optional(
    list(
      v.object({
        id: v.optional(text),
        at: v.optional(text),
        person: v.optional(text),
        state: v.optional(state),
        readings: list(
          v.object({ spoke: spokeNumber, values: list(v.pipe(figure, v.gtValue(0)), MOST_TONES) }),
          MOST_SPOKES,
        ),
      }),
      MOST_ROUNDS,
    ),
  ),
});

export const wheelSchema = v.object({
  id: v.optional(text),
  name: v.optional(text),
  note: v.optional(text),
  createdAt: v.optional(text),
  changedAt: v.optional(text),
  layout,
  sides: v.optional(v.object({ left: sideSpokes, right: sideSpokes })),
  kinds: v.optional(v.record(text, kind)),
  targetPercent: v.optional(v.pipe(figure, v.gtValue(0))),
  state: v.optional(state),
  calibrations: v.optional(list(calibration, MOST_ROUNDS)),
  gauges: v.optional(list(gauge, MOST_PIECES)),
  rounds: v.optional(list(round, MOST_ROUNDS)),
});

/** A wheel as a file may say it. */
export type WheelInput = v.InferOutput<typeof wheelSchema>;
export type KindInput = v.InferOutput<typeof kind>;
export type MaterialInput = v.InferOutput<typeof material>;
export type SideInput = v.InferOutput<typeof sideSpokes>;
export type LayoutInput = v.InferOutput<typeof layout>;
export type NippleInput = v.InferOutput<typeof nipple>;
export type StateInput = v.InferOutput<typeof state>;
export type PluckInput = v.InferOutput<typeof pluck>;
export type RoundInput = v.InferOutput<typeof round>;
export type CalibrationInput = v.InferOutput<typeof calibration>;
export type GaugeInput = v.InferOutput<typeof gauge>;
