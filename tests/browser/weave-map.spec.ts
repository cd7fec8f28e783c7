import { expect, test, type Page } from '@playwright/test';
import { readFileSync } from 'node:fs';
import { withHarbourLane } from './begin';

// The map is drawn by WebGL; without a graphics card Chromium draws it in software.
test.use({
  launchOptions: {
    executablePath: process.env['CHROMIUM_PATH'] ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--use-gl=angle',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
      '--ignore-gpu-blocklist',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
    ],
  },
});

/** Drawn in software a map is slow, and slower on a busy machine. */
test.beforeEach(() => test.setTimeout(300_000));

async function openMap(page: Page): Promise<void> {
  await withHarbourLane(page);
  await page.getByRole('link', { name: 'Weave' }).first().click();
  await expect(page.getByRole('gridcell').first()).toBeVisible();
  await page.getByLabel('Show as').selectOption('map');
  await expect(page.getByRole('heading', { name: 'The whole journal' })).toBeVisible();
  await expect(list(page).locator('li .name').first()).toBeVisible();
}

async function openAround(page: Page, name: string): Promise<void> {
  await openMap(page);
  await page.getByRole('combobox', { name: 'A map around' }).fill(name);
  await page.getByRole('option', { name }).first().click();
  await expect(page.getByRole('heading', { name: `Around ${name}` })).toBeVisible();
  await expect.poll(async () => (await names(page)).length).toBeGreaterThan(5);
}

const list = (page: Page) => page.getByRole('region', { name: 'What is on the map' });
const names = (page: Page): Promise<string[]> => list(page).locator('li .name').allTextContents();
const map = (page: Page) => page.getByRole('application');
const chosen = (page: Page) => page.getByRole('region', { name: 'What is chosen' });

test('a map is opened three steps out and stepped back to where it began', async ({ page }) => {
  await openAround(page, 'Courage');
  const begun = await names(page);
  await map(page).focus();
  const counts = [begun.length];
  // Three of the nodes next to the middle, one after the other.
  for (const nth of [1, 3, 5]) {
    await list(page).locator('.name').nth(nth).click();
    await map(page).focus();
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => (await names(page)).length, { timeout: 30_000 })
      .toBeGreaterThan(counts[counts.length - 1]!);
    counts.push((await names(page)).length);
  }
  for (let step = 0; step < 3; step++) await page.keyboard.press('Backspace');
  await expect.poll(() => names(page)).toEqual(begun);
});

test('a map that cannot be stepped back stays as it is, and arrows go on', async ({ page }) => {
  await openMap(page);
  await map(page).focus();
  await page.keyboard.press('Backspace');
  await expect(page.getByText('This is where you began')).toBeVisible();
  await page.keyboard.press('ArrowRight');
  const said = page.getByRole('region', { name: 'On the map' }).locator('p.unseen[role="status"]');
  await expect(said).toHaveText(/, (book|theme|person)$/);
  const first = (await said.textContent()) ?? '';
  await page.keyboard.press('ArrowRight');
  await expect(said).not.toHaveText(first);
  await expect(said).toHaveText(/, (book|theme|person)$/);
});

test('where no PNG can be made of a map that is said, and nothing is saved', async ({ page }) => {
  await page.addInitScript(() => {
    HTMLCanvasElement.prototype.toBlob = (done) => done(null);
  });
  const broken: string[] = [];
  page.on('pageerror', ({ message }) => broken.push(message));
  await openAround(page, 'Courage');
  await page.getByRole('button', { name: 'PNG', exact: true }).click();
  await expect(page.getByText('This browser cannot make a PNG of the map')).toBeVisible();
  expect(broken).toEqual([]);
});

test('what is chosen by shift and arrows is tied to a heading, made a theme of, and put in a guide', async ({
  page,
}) => {
  await openAround(page, 'Courage');
  await list(page).locator('.name').first().click();
  await map(page).focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect(chosen(page)).toContainText('2 chosen');
  await chosen(page).getByRole('button', { name: 'Make a theme of this' }).click();
  await chosen(page).getByLabel('Name of the theme').fill('Found on the map');
  await page.keyboard.press('Enter');
  await expect(page.getByText(/Found on the map/).first()).toBeAttached();
  await chosen(page).getByRole('button', { name: 'Tie to' }).click();
  await page.getByRole('combobox', { name: 'Tie them to' }).fill('Growing up');
  await page
    .getByRole('listbox', { name: 'Tie them to' })
    .getByRole('option', { name: 'Growing up' })
    .first()
    .click();
  await expect(page.getByText(/^Tied \d+ entries to|^Tied an? \w+/).first()).toBeAttached();
  await chosen(page).getByRole('button', { name: 'Put in a guide' }).click();
  await expect(page.getByText(/put by for a guide/).first()).toBeAttached();
});

test('a line drawn round a part of the whole journal chooses what lies in it', async ({ page }) => {
  await openMap(page);
  const box = (await map(page).boundingBox())!;
  const at = (x: number, y: number): [number, number] => [
    box.x + box.width * x,
    box.y + box.height * y,
  ];
  // The dots are laid once the map is shown.
  await expect(map(page).locator('canvas.sigma-dots')).toBeAttached({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Draw round' }).click();
  await page.mouse.move(...at(0.05, 0.05));
  await page.mouse.down();
  for (const [x, y] of [
    [0.95, 0.05],
    [0.95, 0.95],
    [0.05, 0.95],
    [0.05, 0.06],
  ] as const) {
    await page.mouse.move(...at(x, y), { steps: 3 });
  }
  await page.mouse.up();
  await expect(chosen(page)).toContainText(/\d chosen/);
  const said = (await chosen(page).textContent()) ?? '';
  const many = Number(/([\d,]+) chosen/.exec(said)![1]!.replace(',', ''));
  expect(many).toBeGreaterThan(100);
  await chosen(page).getByRole('button', { name: 'Put in a guide' }).click();
  await expect(page.getByText(/^\d+ entries put by for a guide/).first()).toBeAttached();
});

test('a search lights up on the map of the whole journal, and its time and roles can be narrowed', async ({
  page,
}) => {
  await openMap(page);
  await expect(map(page).locator('canvas.sigma-dots')).toBeAttached({ timeout: 60_000 });
  const plain = await map(page).screenshot();
  await page.getByRole('searchbox', { name: 'Light up on the map' }).fill('storm');
  await expect(list(page).getByText(/\d+ entries lit on the map/)).toBeVisible();
  await expect.poll(async () => (await map(page).screenshot()).equals(plain)).toBe(false);
  await page.getByRole('searchbox', { name: 'Light up on the map' }).fill('');
  await expect(list(page).getByText(/lit on the map/)).toBeHidden();
  const sizes = (): Promise<number[]> =>
    list(page)
      .locator('h3 .count')
      .evaluateAll((all) => all.map((one) => Number.parseInt(one.textContent.replace(',', ''))));
  const before = await sizes();
  const sum = (of: number[]): number => of.reduce((a, b) => a + b, 0);
  await page.getByRole('combobox', { name: 'Tied', exact: true }).selectOption('by');
  await expect.poll(async () => sum(await sizes())).toBeLessThan(sum(before));
  await page.getByRole('combobox', { name: 'Tied', exact: true }).selectOption('any');
  await expect.poll(sizes).toEqual(before);
  // The stretch of time is narrowed by keys, as under the cloth.
  await page.getByRole('slider', { name: 'Written until' }).focus();
  for (let press = 0; press < 3; press++) await page.keyboard.press('PageDown');
  await expect.poll(async () => sum(await sizes())).toBeLessThan(sum(before));
  await page.getByRole('button', { name: 'all years' }).click();
  await expect.poll(sizes).toEqual(before);
  await page.getByRole('combobox', { name: 'Strand', exact: true }).selectOption({ index: 1 });
  await expect.poll(async () => (await sizes()).length).toBe(1);
});

test('a map is saved as SVG and as PNG, with its words', async ({ page }) => {
  await page.emulateMedia({ colorScheme: 'light' });
  await openAround(page, 'Courage');
  const save = async (name: string): Promise<Buffer> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name, exact: true }).click(),
    ]);
    return readFileSync(await download.path());
  };
  const svg = await page.evaluate(
    (text) => {
      const read = new DOMParser().parseFromString(text, 'image/svg+xml');
      return {
        faults: read.querySelectorAll('parsererror').length,
        root: read.documentElement.localName,
        title: read.querySelector('title')?.textContent,
        words: [...read.querySelectorAll('text')].map((one) => one.textContent),
      };
    },
    (await save('Save as SVG')).toString('utf8'),
  );
  expect(svg).toMatchObject({ faults: 0, root: 'svg', title: 'Around Courage' });
  const said = await names(page);
  for (const name of said.filter((one) => one.length < 50)) expect(svg.words).toContain(name);
  // Ink on paper, as it prints, also where the screen is dark.
  const ground = (saved: Buffer): string | undefined =>
    /<rect[^>]* fill="([^"]+)"/.exec(saved.toString('utf8'))?.[1];
  const light = ground(await save('Save as SVG'));
  await page.emulateMedia({ colorScheme: 'dark' });
  expect(ground(await save('Save as SVG'))).toBe(light);
  const png = await save('PNG');
  expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  // Width and height, two pixels to one (PNG specification, IHDR).
  expect(png.readUInt32BE(16)).toBe(3200);
  expect(png.readUInt32BE(20)).toBeGreaterThan(400);
});

/** How light the words on the map are, 0 to 255: the mean of what is fully drawn, their halo among it. */
const lightest = (page: Page): Promise<number> =>
  map(page).evaluate((into) => {
    const words = into.querySelector<HTMLCanvasElement>('canvas.sigma-words')!;
    const { data } = words.getContext('2d')!.getImageData(0, 0, words.width, words.height);
    let [sum, count] = [0, 0];
    for (let at = 0; at < data.length; at += 4) {
      if (data[at + 3]! < 250) continue;
      sum += data[at + 1]!;
      count += 1;
    }
    return count === 0 ? NaN : sum / count;
  });

test('a map that lies open follows from light to dark and back', async ({ page }) => {
  await page.emulateMedia({ colorScheme: 'light' });
  await openAround(page, 'Courage');
  await expect.poll(() => lightest(page)).toBeGreaterThan(0);
  const light = await lightest(page);
  await page.emulateMedia({ colorScheme: 'dark' });
  await expect.poll(() => lightest(page)).not.toBe(light);
  const dark = await lightest(page);
  // In the light dark words have a light halo, which is the larger part; in the dark the other way round.
  expect(light - dark).toBeGreaterThan(30);
  await page.emulateMedia({ colorScheme: 'light' });
  await expect.poll(() => lightest(page)).toBeGreaterThan(dark + 30);
});

test('more than forty nodes are laid by forces off the page and shown settled, the same each time', async ({
  page,
}) => {
  await openAround(page, 'Courage');
  const workers = page.workers().length;
  await map(page).focus();
  for (const nth of [1, 2, 3, 4, 5]) {
    const before = (await names(page)).length;
    if (before > 40) break;
    await list(page).locator('.name').nth(nth).click();
    await map(page).focus();
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await names(page)).length).toBeGreaterThan(before);
  }
  expect((await names(page)).length).toBeGreaterThan(40);
  await expect(page.locator('.canvas[aria-busy="false"]')).toBeAttached();
  expect(page.workers().length).toBe(workers + 1);
  const first = await map(page).screenshot();
  await page.waitForTimeout(1500);
  expect((await map(page).screenshot()).equals(first)).toBe(true);
});

test('without WebGL a sentence, a still picture and the list stand in', async ({ page }) => {
  await page.addInitScript(() => {
    const own = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string) {
      return kind.startsWith('webgl') ? null : own.call(this, kind as '2d');
    } as typeof own;
  });
  await openMap(page);
  await expect(page.getByText('This browser draws no live map.')).toBeVisible();
  await expect(page.locator('.still svg text').first()).toBeVisible();
  await expect(map(page)).toBeHidden();
  expect((await names(page)).length).toBeGreaterThan(5);
  await list(page).locator('li input').first().check();
  await expect(chosen(page)).toContainText('1 chosen');
});
