import type { Page } from 'playwright-core';
import { MATERIALS } from '../signals/catalogue.ts';
import type { WheelSpoke } from '../signals/round.ts';
import { uniformWheel } from '../signals/uniformWheel.ts';
import { type Hand, playwrightHand } from './hand.ts';

export const SPOKE_COUNT = 24;
export const SUPPORT_LENGTH_MM = 280;
export const CROSSING_TO_RIM_MM = 210;
export const MAXIMUM_N = 1200;

/** Stiffness of hub and rim, N·m/rad: clampedness 0.62 at 1000 N. */
export const SIMULATED_ENDS = { hubSpring: 20, rimSpring: 20 } as const;

/** Clearly off their side; 6 is beyond the limit. */
export const OFF = { 6: 1330, 15: 520, 20: 850 } as const;

/** The modulus that the description states for stainless wire; the simulated wire has that of handbook tables. */
const DESCRIBED_MODULUS_GPA = 190;
const SIMULATED_MODULUS_GPA = MATERIALS.steel.modulus / 1e9;

/**
 * The wheel that is plucked: plain 2.0 mm wire as it is described, crossings held. Tensions and the stiffness of hub and rim are what
 * nobody tells the app.
 */
export const testSpokes = (spokeCount = SPOKE_COUNT): WheelSpoke[] =>
  asDescribed(
    uniformWheel({
      seed: 24,
      spokeCount,
      leftN: 640,
      rightN: 1040,
      scatter: 0.02,
      supportLengthM: { left: SUPPORT_LENGTH_MM / 1000, right: SUPPORT_LENGTH_MM / 1000 },
      crossingFromHubM: {
        left: (SUPPORT_LENGTH_MM - CROSSING_TO_RIM_MM) / 1000,
        right: (SUPPORT_LENGTH_MM - CROSSING_TO_RIM_MM) / 1000,
      },
      set: OFF,
      ...SIMULATED_ENDS,
    }),
  );

const asDescribed = (spokes: readonly WheelSpoke[]): WheelSpoke[] => {
  const factor = DESCRIBED_MODULUS_GPA / SIMULATED_MODULUS_GPA;
  return spokes.map((spoke) => ({
    ...spoke,
    pieces: spoke.pieces.map((piece) => ({
      ...piece,
      bendingInPlane: piece.bendingInPlane * factor,
      bendingAcross: piece.bendingAcross * factor,
      axialN: piece.axialN * factor,
    })),
  }));
};

/** Describes that wheel by hand, from the empty shelf, as a person would; ends on the listen screen. */
export const describeTestWheel = (page: Page, spokeCount = SPOKE_COUNT): Promise<void> =>
  describeByHand(playwrightHand(page), spokeCount);

/** The same in any browser. */
export async function describeByHand(hand: Hand, spokeCount = SPOKE_COUNT): Promise<void> {
  await hand.tap('Understood');
  await hand.tap('New wheel');
  await hand.tap('36 steel spokes');
  await hand.fill('Name', 'Bench wheel');
  await hand.fill('Spokes', `${spokeCount}`);
  // Two crosses of so few spokes would run inside the hub.
  const crosses = spokeCount < SPOKE_COUNT ? '1' : '2';
  for (const side of ['left', 'right']) await hand.fill(`Crosses, ${side}`, crosses);
  await hand.unfold('Spokes');
  for (const side of ['left', 'right']) await hand.choose(`Nipple, ${side}`, 'internal');
  await hand.unfold('Lengths by ruler');
  for (const side of ['left', 'right']) {
    await hand.fill(`Hub support to nipple seat, ${side}`, `${SUPPORT_LENGTH_MM}`);
    await hand.fill(`Crossing to nipple seat, ${side}`, `${CROSSING_TO_RIM_MM}`);
  }
  await hand.unfold('Limits and target');
  for (const side of ['left', 'right']) await hand.fill(`Maximum, ${side}`, `${MAXIMUM_N}`);
  await hand.tap('Save and listen');
}
