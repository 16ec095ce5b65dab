import type { Page } from 'playwright-core';
import { MATERIALS } from '../signals/catalogue.ts';
import type { WheelSpoke } from '../signals/round.ts';
import { uniformWheel } from '../signals/uniformWheel.ts';

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
export async function describeTestWheel(page: Page, spokeCount = SPOKE_COUNT): Promise<void> {
  const understood = page.getByRole('button', { name: 'Understood' });
  if (await understood.isVisible()) await understood.click();
  await page.getByRole('button', { name: 'New wheel' }).click();
  await page.getByRole('button', { name: /36 steel spokes/ }).click();
  await page.getByLabel('Name').fill('Bench wheel');
  await page.getByLabel('Spokes', { exact: true }).fill(`${spokeCount}`);
  // Two crosses of so few spokes would run inside the hub.
  const crosses = spokeCount < SPOKE_COUNT ? '1' : '2';
  for (const side of ['left', 'right']) await page.getByLabel(`Crosses, ${side}`).fill(crosses);
  await unfold(page, 'Spokes');
  for (const side of ['left', 'right']) await page.getByLabel(`Nipple, ${side}`).selectOption({ label: 'internal' });
  await unfold(page, 'Lengths by ruler');
  for (const side of ['left', 'right']) {
    await page.getByLabel(`Hub support to nipple seat, ${side}`).fill(`${SUPPORT_LENGTH_MM}`);
    await page.getByLabel(`Crossing to nipple seat, ${side}`).fill(`${CROSSING_TO_RIM_MM}`);
  }
  await unfold(page, 'Limits and target');
  for (const side of ['left', 'right']) await page.getByLabel(`Maximum, ${side}`).fill(`${MAXIMUM_N}`);
  await page.getByRole('button', { name: 'Save and listen' }).click();
}

async function unfold(page: Page, title: string): Promise<void> {
  await page
    .locator('summary')
    .filter({ hasText: new RegExp(`^${title}`) })
    .click();
}
