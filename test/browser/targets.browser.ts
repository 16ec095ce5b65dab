import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hiddenParts } from './hiddenParts.ts';
import { DESK, type OpenPage, openPage, PHONE } from './openPage.ts';

/** Every target, and the room between two. CSS pixels; a finger in a glove, a hand with grease on it. */
const LEAST_TARGET = 48;
const LEAST_GAP = 8;
/** Rounding of a layout at whole and half pixels. */
const PIXEL = 0.6;

let open: OpenPage;
let wheelHash = '';
beforeAll(async () => {
  open = await openPage();
  const { page } = open;
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
  await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
  await page.getByText(/\b([7-9]|1\d) of 32/).waitFor();
  wheelHash = new URL(page.url()).hash.replace(/\/[^/]*$/, '');
  await page.getByRole('button', { name: 'Pause' }).click({ timeout: 20_000 });
});
afterAll(() => open?.close());

const SCREENS = ['#/', '#/new', 'describe', 'listen', 'judge', '#/settings', '#/help', '#/help/pluck'] as const;
const goTo = async (screen: string) => {
  await open.page.evaluate(
    (hash) => {
      location.hash = hash;
    },
    screen.startsWith('#') ? screen : `${wheelHash}/${screen}`,
  );
  await open.page.locator('main').first().waitFor();
  await open.page.waitForTimeout(250);
  // What the app has to say besides is read and closed.
  for (const note of await open.page.locator('.message').getByRole('button', { name: 'Close' }).all())
    await note.click();
};

const unfoldAll = () =>
  open.page.evaluate(() => {
    for (const part of document.querySelectorAll('details')) part.open = true;
  });

/** What can be tapped on the page, as it is seen. */
const targets = () =>
  open.page.evaluate(() =>
    [...document.querySelectorAll('a[href], button, input, select, summary, textarea')].flatMap((element) => {
      const box = element.getBoundingClientRect();
      const style = getComputedStyle(element);
      if (box.width === 0 || box.height === 0 || style.visibility === 'hidden') return [];
      const name = `${element.tagName.toLowerCase()} “${(element.getAttribute('aria-label') ?? element.textContent ?? '').trim().slice(0, 30)}”`;
      // What stays in place over the scrolled page is not beside what lies under it.
      const floats = element.closest('.foot-action, .listen-controls, .messages') !== null;
      return [{ name, x: box.x, y: box.y + scrollY, width: box.width, height: box.height, floats }];
    }),
  );

describe.each(SCREENS)('on %s', (screen) => {
  it(`every target is at least ${LEAST_TARGET} pixels each way and ${LEAST_GAP} from the next`, async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo(screen);
    await unfoldAll();
    const found = await targets();
    expect(found.length).toBeGreaterThan(0);
    const small = found.filter((one) => Math.min(one.width, one.height) < LEAST_TARGET - PIXEL);
    expect(small.map((one) => `${one.name} ${one.width.toFixed(0)} × ${one.height.toFixed(0)}`)).toEqual([]);
    const near = found.flatMap((a, i) =>
      found.slice(i + 1).flatMap((b) => {
        if (a.floats !== b.floats) return [];
        const dx = Math.max(a.x, b.x) - Math.min(a.x + a.width, b.x + b.width);
        const dy = Math.max(a.y, b.y) - Math.min(a.y + a.height, b.y + b.height);
        return Math.max(dx, dy) < LEAST_GAP - PIXEL ? [`${a.name} and ${b.name}: ${Math.max(dx, dy).toFixed(1)}`] : [];
      }),
    );
    expect(near).toEqual([]);
  });

  it.each([
    ['320 pixels wide', 320, '100%'],
    ['390 pixels wide with text at 200 %', 390, '200%'],
  ])('at %s nothing needs a sideways scroll', async (_, width, size) => {
    const { page } = open;
    await page.setViewportSize({ width, height: 844 });
    await goTo(screen);
    await page.evaluate((fontSize) => {
      document.documentElement.style.fontSize = fontSize;
    }, size);
    await unfoldAll();
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    await page.evaluate(() => {
      document.documentElement.style.fontSize = '';
    });
    expect(over).toBeLessThanOrEqual(0);
  });

  it('nothing moves where motion is not wanted', async () => {
    const { page } = open;
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await goTo(screen);
    expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
    await page.emulateMedia({ reducedMotion: 'no-preference' });
  });
});

describe('the Listen screen', () => {
  it('has its main action across the full width, at least 72 pixels high, in the bottom third', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('listen');
    const box = await page.locator('.main-action').boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(72 - PIXEL);
    expect(box?.width).toBeGreaterThanOrEqual(PHONE.width * 0.85);
    expect(box?.y).toBeGreaterThanOrEqual((PHONE.height * 2) / 3);
    expect((box?.y ?? 0) + (box?.height ?? 0)).toBeLessThanOrEqual(PHONE.height);
  });

  it('shows place, digits, verdict and the whole wheel at once on a phone held upright', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('listen');
    const controls = await page.locator('.listen-controls').boundingBox();
    for (const part of ['.place', '.progress', '.signs', '.digits', '.verdict', '.wheel-view']) {
      const box = await page.locator(part).first().boundingBox();
      expect(box?.y, part).toBeGreaterThanOrEqual(0);
      expect((box?.y ?? 0) + (box?.height ?? 1e9), part).toBeLessThanOrEqual((controls?.y ?? 0) + PIXEL);
    }
  });

  // What the bars of a phone's browser leave of a usual phone, and a small phone.
  it.each([
    ['390 × 664', { width: 390, height: 664 }],
    ['320 × 640', { width: 320, height: 640 }],
  ])('shows all of it above the buttons while it listens at %s', async (_, size) => {
    const { page } = open;
    await page.setViewportSize(size);
    await goTo('listen');
    await page.getByRole('button', { name: /^Go on/ }).click();
    await page.locator('.round.hearing').waitFor();
    const hidden = await page.evaluate(hiddenParts);
    await page.getByRole('button', { name: 'Pause' }).click();
    expect(hidden).toEqual([]);
  });

  it('brings what “More” opens into sight', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('listen');
    await page.getByRole('button', { name: 'More' }).click();
    const field = await page.getByLabel('Jump to spoke').boundingBox();
    const controls = await page.locator('.listen-controls').boundingBox();
    await page.getByRole('button', { name: 'More' }).click();
    expect(field?.y).toBeGreaterThanOrEqual(0);
    expect((field?.y ?? 1e9) + (field?.height ?? 0)).toBeLessThanOrEqual(controls?.y ?? 0);
  });

  it('stays where it is from the first pluck of a spoke to the second', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('listen');
    const lines = await page.evaluate(() => {
      const words = document.querySelector('.progress span');
      const height = () => words?.getBoundingClientRect().height ?? Number.NaN;
      const before = words?.textContent ?? '';
      const heights = ['12 of 32', '12 of 32, pluck 1 of 2 taken'].map((text) => {
        if (words !== null) words.textContent = text;
        return height();
      });
      if (words !== null) words.textContent = before;
      return heights;
    });
    expect(lines[0]).toBeGreaterThan(0);
    expect(lines[1]).toBe(lines[0]);
  });

  it('names the longest place on one line, in the theme with the thickest strokes too', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('listen');
    const lines = await page.evaluate(() => {
      const place = document.querySelector('.place');
      const theme = document.documentElement.dataset.theme;
      document.documentElement.dataset.theme = 'sunlight';
      const [was, before] = [place?.innerHTML ?? '', place?.getBoundingClientRect().height ?? 0];
      const heights = ['All heard', 'Pluck spoke 22, right'].map((text) => {
        if (place !== null) place.textContent = text;
        return place?.getBoundingClientRect().height ?? before;
      });
      if (place !== null) place.innerHTML = was;
      if (theme === undefined) delete document.documentElement.dataset.theme;
      else document.documentElement.dataset.theme = theme;
      return heights;
    });
    expect(lines[0]).toBeGreaterThan(0);
    expect(lines[1]).toBe(lines[0]);
  });

  it('has no letter under 16 pixels, its verdict at least 28, its digits readable from a metre', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('listen');
    const sizes = await page.evaluate(() =>
      [...document.querySelectorAll('main *')].flatMap((element) => {
        const own = [...element.childNodes].some(
          (node) => node.nodeType === 3 && (node.textContent ?? '').trim() !== '',
        );
        if (!own || element.closest('.unseen') !== null || element.getClientRects().length === 0) return [];
        const svg = element.closest('svg');
        const scale = svg === null ? 1 : svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
        return [{ text: element.textContent ?? '', px: Number.parseFloat(getComputedStyle(element).fontSize) * scale }];
      }),
    );
    expect(sizes.filter((one) => one.px < 16 - PIXEL)).toEqual([]);
    const sizeOf = (part: string) =>
      page
        .locator(part)
        .first()
        .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    expect(await sizeOf('.verdict')).toBeGreaterThanOrEqual(28 - PIXEL);
    expect(await sizeOf('.digits')).toBeCloseTo(Math.min(112, Math.max(72, 0.26 * PHONE.width)), 0);
  });

  it.each([
    ['a phone on its side', { width: 844, height: 390 }],
    ['a desk', DESK],
  ])('keeps place, digits and main action in sight on %s', async (_, size) => {
    const { page } = open;
    await page.setViewportSize(size);
    await goTo('listen');
    for (const part of ['.place', '.digits', '.main-action']) {
      const box = await page.locator(part).first().boundingBox();
      expect(box?.y, part).toBeGreaterThanOrEqual(0);
      expect((box?.y ?? 0) + (box?.height ?? 1e9), part).toBeLessThanOrEqual(size.height + PIXEL);
    }
  });

  it('tells the main action from its ground where the system forces its colours', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await page.emulateMedia({ forcedColors: 'active' });
    await goTo('listen');
    const [own, ground] = await page.evaluate(() => [
      getComputedStyle(document.querySelector('.main-action') ?? document.body).backgroundColor,
      getComputedStyle(document.body).backgroundColor,
    ]);
    await page.emulateMedia({ forcedColors: 'none' });
    expect(own).not.toBe(ground);
  });
});

describe('the Judge screen', () => {
  it('brings the details of a spoke of its table into sight, and closing leads back to its row', async () => {
    const { page } = open;
    await page.setViewportSize(PHONE);
    await goTo('judge');
    const row = page.getByRole('button', { name: 'Details of spoke 7' });
    await row.click();
    const heading = page.getByRole('heading', { name: 'Spoke 7, left' }).filter({ visible: true });
    const seen = await heading.boundingBox();
    expect(seen?.y).toBeGreaterThanOrEqual(0);
    expect(seen?.y).toBeLessThan(PHONE.height / 2);
    await page.getByRole('region', { name: 'Spoke 7' }).filter({ visible: true }).getByText('Close').click();
    const back = await row.boundingBox();
    expect(back?.y).toBeGreaterThanOrEqual(0);
    expect((back?.y ?? 1e9) + (back?.height ?? 0)).toBeLessThanOrEqual(PHONE.height);
  });
});

describe('the Judge screen on a small phone', () => {
  it('shows number, tension and verdict of a spoke without a sideways scroll', async () => {
    const { page } = open;
    await page.setViewportSize({ width: 320, height: 640 });
    await goTo('judge');
    const over = await page
      .getByRole('region', { name: 'All spokes' })
      .evaluate((frame) => frame.scrollWidth - frame.clientWidth);
    expect(over).toBeLessThanOrEqual(0);
  });
});

describe('the Judge screen at a desk', () => {
  it('shows the details of a spoke beside its row', async () => {
    const { page } = open;
    await page.setViewportSize(DESK);
    await goTo('judge');
    const row = page.getByRole('button', { name: 'Details of spoke 7' });
    await row.click();
    const heading = page.getByRole('heading', { name: 'Spoke 7, left' }).filter({ visible: true });
    for (const part of [row, heading]) {
      const box = await part.boundingBox();
      expect(box?.y).toBeGreaterThanOrEqual(0);
      expect((box?.y ?? 1e9) + (box?.height ?? 0)).toBeLessThanOrEqual(DESK.height);
    }
    await page.getByRole('region', { name: 'Spoke 7' }).filter({ visible: true }).getByText('Close').click();
  });
});

describe('with keys alone', () => {
  it('the first screen leads to a new wheel, and every stop shows where it is', async () => {
    const { page } = open;
    await page.setViewportSize(DESK);
    await goTo('#/');
    const seen: string[] = [];
    for (let i = 0; i < 30; i++) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate(() => {
        const element = document.activeElement;
        if (element === null || element === document.body) return undefined;
        const style = getComputedStyle(element);
        return {
          name: (element.textContent ?? '').trim(),
          outline: style.outlineStyle,
          width: Number.parseFloat(style.outlineWidth),
        };
      });
      if (at === undefined) break;
      expect(at.outline, at.name).not.toBe('none');
      expect(at.width, at.name).toBeGreaterThanOrEqual(2);
      seen.push(at.name);
      if (at.name === 'New wheel') break;
    }
    expect(seen).toContain('New wheel');
    await page.keyboard.press('Enter');
    await page.getByText('What is it most like?').waitFor();
  });
});
