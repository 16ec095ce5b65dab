import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** From the empty shelf to the listen screen of a wheel of which only count and sides are known. */
async function goToListen({ page }: OpenPage): Promise<void> {
  const understood = page.getByRole('button', { name: 'Understood' });
  if (await understood.isVisible()) await understood.click();
  await page.getByRole('button', { name: 'New wheel' }).click();
  await page.getByRole('button', { name: /Evenness only/ }).click();
  await page.getByRole('button', { name: 'Save and listen' }).click();
}

describe('without a microphone', () => {
  it('refused: one sentence says so and what to do, and nothing is lost', async () => {
    open = await openPage({ microphone: 'refused' });
    await goToListen(open);
    const { page, errors } = open;
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText('The microphone was refused, so no spoke can be heard.').waitFor();
    await page.getByText(/Allow it in the browser’s settings/).waitFor();
    await page.getByRole('button', { name: /Go on at spoke 1/ }).waitFor();
    expect(errors).toEqual([]);
  });

  it('taken away in mid-round: a sentence, the round stands, and one tap goes on', async () => {
    open = await openPage();
    const { page } = open;
    await page.evaluate(() => {
      const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
      navigator.mediaDevices.getUserMedia = async (constraints) => {
        const stream = await ask(constraints);
        (globalThis as { taken?: MediaStreamTrack | undefined }).taken = stream.getAudioTracks()[0];
        return stream;
      };
    });
    await goToListen(open);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText(/listening, /).waitFor();
    // A track does not tell of its end when the page itself stops it; the event is what a pulled plug brings.
    await page.evaluate(() => {
      const { taken } = globalThis as { taken?: MediaStreamTrack };
      taken?.stop();
      taken?.dispatchEvent(new Event('ended'));
    });
    await page.getByText('The microphone was taken away. The round stands as it is.').waitFor();
    await page.getByRole('button', { name: 'Listen again' }).click();
    await page.getByText(/listening, /).waitFor();
  });
});

describe('what the device is asked for', () => {
  it('has all of the system’s sound processing switched off', async () => {
    open = await openPage();
    const { page } = open;
    await page.evaluate(() => {
      const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
      navigator.mediaDevices.getUserMedia = (constraints) => {
        (globalThis as { asked?: unknown }).asked = constraints;
        return ask(constraints);
      };
    });
    await goToListen(open);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText(/listening, /).waitFor();
    const asked = await page.evaluate(() => (globalThis as { asked?: unknown }).asked);
    expect(asked).toEqual({ audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false } });
    expect(await page.getByText('The system still edits the sound').count()).toBe(0);
  });
});
