/**
 * SI quantities as types. A `Newtons` cannot be passed where `Hertz` is wanted; inside the pure rooms every quantity is SI,
 * and at an untyped border (JSON, CSV, a form field, a thread message) the unit stands in the name: `tensionN`, `freeLengthMm`.
 */
declare const unit: unique symbol;
export type Quantity<Unit extends string> = number & { readonly [unit]: Unit };

export type Newtons = Quantity<'N'>;
export type Hertz = Quantity<'Hz'>;
export type Metres = Quantity<'m'>;
export type Seconds = Quantity<'s'>;
export type Kilograms = Quantity<'kg'>;
export type KilogramsPerMetre = Quantity<'kg/m'>;
export type KilogramsPerCubicMetre = Quantity<'kg/m3'>;
export type Pascals = Quantity<'Pa'>;
/** Bending stiffness E·I. */
export type NewtonMetresSquared = Quantity<'N m2'>;
/** Rotational stiffness of an end support. */
export type NewtonMetresPerRadian = Quantity<'N m/rad'>;
/** Stiffness of a point support, or of a member along its length. */
export type NewtonsPerMetre = Quantity<'N/m'>;
export type Radians = Quantity<'rad'>;
export type Decibels = Quantity<'dB'>;
export type Kelvins = Quantity<'K'>;

/** Gives a plain number its unit. The one place where a cast is made. */
const as =
  <Q extends number>() =>
  (value: number): Q =>
    value as Q;

export const newtons = as<Newtons>();
export const hertz = as<Hertz>();
export const metres = as<Metres>();
export const seconds = as<Seconds>();
export const kilograms = as<Kilograms>();
export const kilogramsPerMetre = as<KilogramsPerMetre>();
export const kilogramsPerCubicMetre = as<KilogramsPerCubicMetre>();
export const pascals = as<Pascals>();
export const newtonMetresSquared = as<NewtonMetresSquared>();
export const newtonMetresPerRadian = as<NewtonMetresPerRadian>();
export const newtonsPerMetre = as<NewtonsPerMetre>();
export const radians = as<Radians>();
export const decibels = as<Decibels>();
export const kelvins = as<Kelvins>();

/** Standard acceleration of free fall, exact. @source 3rd CGPM (1901); NIST SP 811 (2008), App. B.8 */
export const STANDARD_GRAVITY = 9.80665;
/** One avoirdupois pound in kilograms, exact. @source NIST SP 811 (2008), App. B.8 */
export const KILOGRAMS_PER_POUND = 0.45359237;
/** One pound-force in newtons, exact: the two above multiplied. @source NIST SP 811 (2008), App. B.8 */
export const NEWTONS_PER_LBF = 4.4482216152605;
/** One inch in metres, exact. @source NIST SP 811 (2008), App. B.8 */
export const METRES_PER_INCH = 0.0254;

/** The three units in which the trade states spoke tension. */
export const TENSION_UNITS = ['N', 'kgf', 'lbf'] as const;
export type TensionUnit = (typeof TENSION_UNITS)[number];
const NEWTONS_PER: Record<TensionUnit, number> = { N: 1, kgf: STANDARD_GRAVITY, lbf: NEWTONS_PER_LBF };

export const tensionFrom = (value: number, from: TensionUnit): Newtons => newtons(value * NEWTONS_PER[from]);
export const tensionIn = (tension: Newtons, to: TensionUnit): number => tension / NEWTONS_PER[to];

/** The two units in which lengths are typed. */
export type LengthUnit = 'mm' | 'in';
const METRES_PER: Record<LengthUnit, number> = { mm: 1e-3, in: METRES_PER_INCH };

export const lengthFrom = (value: number, from: LengthUnit): Metres => metres(value * METRES_PER[from]);
export const lengthIn = (length: Metres, to: LengthUnit): number => length / METRES_PER[to];

export const millimetres = (value: number): Metres => metres(value * 1e-3);
export const inMillimetres = (length: Metres): number => length * 1e3;
export const grams = (value: number): Kilograms => kilograms(value * 1e-3);
export const inGrams = (mass: Kilograms): number => mass * 1e3;
export const gigapascals = (value: number): Pascals => pascals(value * 1e9);
export const degrees = (value: number): Radians => radians((value * Math.PI) / 180);
export const inDegrees = (angle: Radians): number => (angle * 180) / Math.PI;

/** Interval between two frequencies in cents: 1200·log2(a/b). */
export const centsBetween = (a: Hertz, b: Hertz): number => 1200 * Math.log2(a / b);
