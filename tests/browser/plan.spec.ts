import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Locator, type Page } from '@playwright/test';
import { servedWithoutNetwork, withHarbourLane } from './begin';

interface DemoEntry {
  text: string;
  answer?: string;
  probes?: string[];
}
const demo = JSON.parse(
  readFileSync(resolve(import.meta.dirname, '../../demo-data/harbour-lane.bookweft.json'), 'utf8'),
) as { entries: DemoEntry[] };

/** Letters alone, so that line ends and curly marks of a print do not hide what it says. */
const letters = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
/** What only leaders may read, long enough that it is nowhere by chance. */
const leadersOnly = demo.entries
  .flatMap(({ answer, probes }) => [answer ?? '', ...(probes ?? [])])
  .map(letters)
  .filter((text) => text.length > 24);

const items = (page: Page): Locator => page.locator('.guide ol > li');
const texts = (page: Page): Promise<string[]> =>
  page.locator('.guide ol > li .text').allInnerTexts();

/** Chooses an item, unless it is chosen already: once more would let go of it. */
async function choose(page: Page, part: number, item: number): Promise<void> {
  const text = page.locator(`#item-${part}-${item}`);
  if ((await text.getAttribute('aria-pressed')) !== 'true') await text.click();
  await expect(text).toHaveAttribute('aria-pressed', 'true');
}

async function toPlan(page: Page): Promise<void> {
  await withHarbourLane(page);
  await page.evaluate(() => (location.hash = '#/plan'));
  await expect(page.getByRole('heading', { level: 1, name: 'Plan a meeting' })).toBeAttached();
  await expect(page.getByText('Earlier guides')).toBeVisible();
  // The usual parts stand there once the purpose has been begun; what is filled in before is lost.
  await expect(page.locator('.guide section.empty').first()).toBeVisible();
}

async function composed(page: Page, words: string): Promise<void> {
  await toPlan(page);
  await page.locator('#plan-focus').fill(words);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: 'Compose again' })).toBeVisible();
  await settled(page);
}

/** Suggestions have come, and what was changed is kept. */
async function settled(page: Page): Promise<void> {
  await expect(page.locator('.suggestions li').first()).toBeVisible();
  await expect(page.locator('.suggestions .waiting')).toHaveCount(0);
  await expect(page.locator('.kept').getByText('Keeping…')).toHaveCount(0);
}

test('from the empty workbench both copies are printed in six actions', async ({ page }) => {
  await page.addInitScript(() => {
    const top = window.top as unknown as { printed?: string[] };
    window.print = () => (top.printed ??= []).push(document.body.innerText);
  });
  await toPlan(page);
  let actions = 0;
  const act = async (doing: Promise<void>): Promise<void> => {
    actions += 1;
    await doing;
  };
  const printed = (): Promise<string[]> =>
    page.evaluate(() => (window as unknown as { printed?: string[] }).printed ?? []);

  await act(page.locator('#plan-focus').fill('home'));
  await act(page.keyboard.press('Enter'));
  await expect(page.locator('#item-0-0')).toBeFocused();
  await act(page.keyboard.press('p'));
  await expect(page.frameLocator('iframe').locator('body')).toContainText('Home');
  await act(page.getByRole('button', { name: 'Print the leader’s copy' }).click());
  await expect.poll(async () => (await printed()).length).toBe(1);
  await act(page.getByLabel('Handout').check());
  const print = page.getByRole('button', { name: 'Print the handout' });
  const paper = page.frameLocator('iframe').locator('body');
  await expect(paper).not.toContainText('Listen for');
  await expect(paper).toContainText('Home');
  await act(print.click());
  await expect.poll(async () => (await printed()).length).toBe(2);
  expect(actions).toBeLessThanOrEqual(8);

  const [leader = '', handout = ''] = (await printed()).map(letters);
  expect(leadersOnly.filter((text) => leader.includes(text)).length).toBeGreaterThan(2);
  expect(leadersOnly.filter((text) => handout.includes(text))).toEqual([]);
  const given = demo.entries.filter(({ text }) => handout.includes(letters(text)));
  expect(given.length).toBeGreaterThan(2);
  for (const word of ['listen for', 'if it stalls', 'minutes', 'analyse'])
    expect(handout).not.toContain(word);
});

test('a strand is planned from, kept with the guide, and the guide opened anew says how far from the best it is', async ({
  page,
}) => {
  await toPlan(page);
  await page.getByRole('button', { name: 'or a strand' }).click();
  const strands = page.getByLabel('A strand to plan from');
  const name = (await strands.locator('option').nth(1).innerText()).replace(/, \d+ entries$/, '');
  await strands.selectOption({ index: 1 });
  const from = page.locator('.from li').filter({ hasText: name });
  await expect(from.getByLabel('strand', { exact: true })).toBeVisible();
  await page.getByRole('button', { name: 'Compose', exact: true }).click();
  await settled(page);
  await expect(page.getByLabel('Title of the guide')).toHaveValue(name);
  const best = page.locator('.remarks').getByText(/No better choice exists|below the best choice/);
  await expect(best).toBeVisible();

  await page.reload();
  await expect(from).toBeVisible();
  await expect(best).toBeVisible();
  await page.getByRole('button', { name: `Not from the strand ${name}` }).click();
  await expect(from).toHaveCount(0);
});

test('the ruler tells the minutes in hand, and a narrow foot keeps the way to all keys', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1024, height: 768 });
  await composed(page, 'home');
  const counts = await page.locator('.guide input[aria-label="Minutes"]').all();
  const planned = (await Promise.all(counts.map((one) => one.inputValue()))).map(Number);
  const left = 60 - planned.reduce((sum, one) => sum + one, 0);
  expect(left).toBeGreaterThan(0);
  await expect(page.locator('.ruler')).toContainText(`${left} in hand`);
  const keys = page.getByRole('contentinfo').getByText('all keys');
  await expect(keys).toBeInViewport({ ratio: 1 });
  await page.setViewportSize({ width: 720, height: 768 });
  await expect(keys).toBeInViewport({ ratio: 1 });
});

test('what is set by hand stays when it is composed again', async ({ page }) => {
  await composed(page, 'home');
  const put = (name: string): Locator => page.getByRole('button', { name, exact: true });
  const aside = (await texts(page))[0]!;
  await choose(page, 0, 0);
  await put('Not this time').first().click();
  await expect(page.getByRole('region', { name: 'Not this time' })).toContainText(
    aside.slice(0, 40),
  );

  await choose(page, 1, 0);
  const spare = await page.locator('#item-1-0').innerText();
  await put('Spare').first().click();
  await expect(page.getByRole('region', { name: 'Held ready' })).toContainText('kept by you');

  await choose(page, 1, 0);
  await put('Reword').click();
  await expect(page.getByText('for this guide only, or change it in the journal')).toBeVisible();
  await page.getByLabel('Wording').fill('What makes a house a home to *you*?');
  await put('For this guide only').click();
  await expect(page.locator('#item-1-0')).toContainText('Reworded for this guide');
  await expect(page.locator('#item-1-0')).toContainText('a home to you?');

  await page.getByRole('button', { name: 'Add here…' }).nth(2).click();
  await put('Break').click();
  await expect(page.locator('.guide ol').nth(2)).toContainText('Break');
  await page.getByLabel('Minutes for Closing').fill('9');
  await page.getByLabel('Minutes for Closing').press('Enter');
  await page.getByLabel('Name of the part').first().fill('Settling in');
  await page.getByLabel('Name of the part').first().press('Tab');
  await settled(page);

  await put('Compose again').click();
  await expect(page.getByText('Composed again')).toBeVisible();
  await settled(page);
  await expect(page.locator('.guide ol').nth(1)).toContainText('a home to you?');
  await expect(page.locator('.guide ol').nth(2)).toContainText('Break');
  await expect(page.getByLabel('Name of the part').first()).toHaveValue('Settling in');
  await expect(page.getByLabel('Minutes for Closing')).toHaveValue('9');
  const now = await texts(page);
  expect(now.some((text) => text.startsWith(aside.slice(0, 40)))).toBe(false);
  expect(now.some((text) => text.startsWith(spare.slice(0, 40)))).toBe(false);

  await put('Let it in again').click();
  await expect(page.getByRole('region', { name: 'Not this time' })).toHaveCount(0);
});

test('what is held ready or put aside is let go by keyboard, row after row', async ({ page }) => {
  await composed(page, 'home');
  const ready = page.getByRole('region', { name: 'Held ready' });
  const rows = ready.getByRole('listitem');
  await expect(rows.nth(1)).toBeVisible();
  const second = await rows.nth(1).locator('.text').innerText();
  await ready.getByRole('button', { name: 'Take out' }).first().press('Enter');
  await expect(rows.first()).toContainText(second);
  await expect(ready.getByRole('button', { name: 'Take out' }).first()).toBeFocused();
  await page.keyboard.press('Control+z');
  await expect(rows.nth(1)).toContainText(second);
  await ready.getByRole('button', { name: 'Put in' }).first().press('Enter');
  await expect(rows.first()).toContainText(second);
  await expect(ready.getByRole('button', { name: 'Put in' }).first()).toBeFocused();
  await choose(page, 0, 0);
  await page.getByRole('button', { name: 'Not this time', exact: true }).first().click();
  const aside = page.getByRole('region', { name: 'Not this time' });
  await aside.getByRole('button', { name: 'Let it in again' }).press('Enter');
  await expect(aside).toHaveCount(0);
  await expect(page.locator('#content')).toBeFocused();
});

test('wording can be changed in the journal, from the guide', async ({ page }) => {
  await composed(page, 'garden');
  await choose(page, 1, 0);
  await page.getByRole('button', { name: 'Reword' }).click();
  await page.getByLabel('Wording').fill('Who may go into the garden, and who says so?');
  await page.getByRole('button', { name: 'In the journal', exact: true }).click();
  await expect(page.locator('#item-1-0')).toContainText('who says so?');
  await expect(page.locator('#item-1-0')).not.toContainText('Reworded for this guide');
  await page.getByRole('link', { name: 'Read it whole' }).click();
  await expect(page.getByRole('region', { name: 'Reading' })).toContainText('who says so?');
});

test('an unfinished rewording goes with its own item, and the arrows keep the hand with it', async ({
  page,
}) => {
  await composed(page, 'home');
  const above = await page.locator('.guide ol').nth(0).getByRole('listitem').count();
  await choose(page, 1, 0);
  await page.getByRole('button', { name: 'Reword' }).click();
  await page.getByLabel('Wording').fill('Half a thought');
  await page.locator('#item-1-0').focus();
  await page.keyboard.press('Alt+ArrowUp');
  await expect(page.locator(`#item-0-${above}`)).toBeFocused();
  await choose(page, 1, 0);
  await expect(page.getByLabel('Wording')).toHaveCount(0);
  await page.getByRole('button', { name: 'Move up' }).click();
  await expect(page.locator(`#item-0-${above + 1}`)).toBeFocused();
  await choose(page, 0, above);
  await expect(page.getByLabel('Wording')).toHaveValue('Half a thought');
});

test('what is written of a meeting outlasts Escape, and what the guide gave up stays with the meeting', async ({
  page,
}) => {
  await toPlan(page);
  await page.locator('#plan-focus').fill('home');
  await page.locator('#plan-circle').selectOption({ label: 'Harbour Lane Reading Circle' });
  await page.getByRole('button', { name: 'Compose', exact: true }).click();
  await settled(page);
  const sheet = page.getByRole('dialog', { name: 'It has met' });
  const met = async (): Promise<void> => {
    await page.getByRole('button', { name: 'It has met…' }).click();
    await expect(sheet).toBeVisible();
  };
  const note = sheet.getByLabel('Note for next time').first();
  await met();
  const many = await sheet.getByRole('checkbox').count();
  await note.fill('Slow to begin');
  await page.keyboard.press('Escape');
  await expect(sheet).toHaveCount(0);
  await page.reload();
  await met();
  await expect(sheet.getByText('Written before, and not kept yet.')).toBeVisible();
  await expect(note).toHaveValue('Slow to begin');
  await sheet.getByRole('button', { name: 'Keep the meeting' }).click();
  await expect(sheet).toHaveCount(0);

  await choose(page, 0, 0);
  await page.getByRole('button', { name: 'Take out', exact: true }).first().click();
  await settled(page);
  await met();
  await expect(sheet.getByRole('checkbox')).toHaveCount(many);
  await expect(note).toHaveValue('Slow to begin');
  await expect(sheet.getByText('Written before')).toHaveCount(0);
});

test('a guide run again another day asks whether to go on with the earlier meeting', async ({
  page,
}) => {
  await composed(page, 'home');
  await page.getByRole('link', { name: 'Run the meeting' }).click();
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.getByRole('button', { name: 'Done, next' }).click();
  await page.getByRole('button', { name: 'Back to the guide' }).click();
  const aDayPasses = (): Promise<void> =>
    page.evaluate(() => {
      for (const key of Object.keys(localStorage).filter((one) => one.includes('running'))) {
        const held = JSON.parse(localStorage.getItem(key)!) as { begun: number; since: number };
        const [begun, since] = [held.begun - 86_400_000, held.since - 86_400_000];
        localStorage.setItem(key, JSON.stringify({ ...held, begun, since }));
      }
    });
  await aDayPasses();
  const again = page.getByRole('link', { name: 'Run the meeting' });
  await again.click();
  await page.getByRole('button', { name: 'Go on with it' }).click();
  await expect(page.locator('.part')).toContainText('2 of');
  await page.getByRole('button', { name: 'Back to the guide' }).click();
  // Gone on with today, it is not asked about again today.
  await again.click();
  await expect(page.locator('.part')).toContainText('2 of');
  await page.getByRole('button', { name: 'Back to the guide' }).click();
  await aDayPasses();
  await again.click();
  await page.getByRole('button', { name: 'Begin anew' }).click();
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await expect(page.locator('.part')).toContainText('1 of');
});

test('a row is dragged to another part, and undone', async ({ page }) => {
  await composed(page, 'home');
  const first = (await texts(page))[0]!;
  await items(page).first().hover();
  const from = (await page.locator('.handle').first().boundingBox())!;
  const to = (await page.locator('#item-1-0').boundingBox())!;
  const below = page.locator('.guide ol').nth(1).locator('> li');
  const many = await below.count();
  await page.mouse.move(from.x + 8, from.y + 8);
  await page.mouse.down();
  for (let step = 1; step <= 12; step += 1) {
    const share = step / 12;
    await page.mouse.move(from.x + 8, from.y + 8 + (to.y + to.height - from.y) * share);
    await page.waitForTimeout(30);
  }
  await expect(below).toHaveCount(many + 1);
  await page.mouse.up();
  await expect(page.locator('.guide ol').nth(1)).toContainText(first.slice(0, 40));
  await expect(page.locator('.guide ol').nth(0)).not.toContainText(first.slice(0, 40));
  // What is left moves up to the beginning once the drop is kept.
  await expect(page.locator('.guide ol').nth(0)).toContainText('0.00');
  await settled(page);
  await page
    .locator('.guide header')
    .first()
    .click({ position: { x: 2, y: 2 } });
  await page.keyboard.press('Control+z');
  await expect(page.locator('.guide ol').nth(0)).toContainText(first.slice(0, 40));
});

test('a thin level is helped by frames, plainly marked until they are finished', async ({
  page,
}) => {
  await composed(page, 'home');
  await page.locator('.strip .help').first().click();
  const frame = page.locator('.frame').filter({ hasText: '…' }).first();
  await expect(frame).toBeFocused();
  await expect(frame).toContainText('a frame, to finish');
  await frame.click();
  await page.locator('form').getByRole('button', { name: 'Put in', exact: true }).click();
  await expect(items(page).getByText('A frame, to finish')).toBeVisible();
  await expect(page.getByText('A frame to finish:')).toBeVisible();
});

test('the whole job by keyboard alone', async ({ page }) => {
  await toPlan(page);
  const press = (key: string): Promise<void> => page.keyboard.press(key);
  const tabTo = async (wanted: Locator, most = 60): Promise<void> => {
    for (let step = 0; step < most; step += 1) {
      if (await wanted.evaluate((node) => node === document.activeElement)) return;
      await press('Tab');
    }
    throw new Error('The key Tab did not come to it.');
  };
  await press('F6');
  await expect(page.locator('#plan-focus')).toBeFocused();
  await page.keyboard.type('home');
  await tabTo(page.locator('#plan-circle'));
  await page.keyboard.type('Tues');
  await expect(page.locator('#plan-circle')).not.toHaveValue('');
  await tabTo(page.getByRole('button', { name: 'Compose', exact: true }));
  await press('Enter');
  await expect(page.locator('#item-0-0')).toBeFocused();
  await settled(page);

  await press('ArrowDown');
  const chosen = page.locator('.row.chosen');
  await expect(chosen).toHaveCount(1);
  const words = (await chosen.locator('.text').innerText()).slice(0, 30);
  const minutes = chosen.getByLabel('Minutes', { exact: true });
  const before = Number(await minutes.inputValue());
  await press('+');
  await press('+');
  await expect(minutes).toHaveValue(String(before + 2));
  await press('m');
  await expect(chosen.locator('.must').first()).toHaveText('Must');
  const level = chosen.getByRole('combobox', { name: 'Level' });
  const was = await level.inputValue();
  await press('l');
  await expect(level).not.toHaveValue(was);
  await press('Alt+ArrowDown');
  await expect(chosen.locator('.text')).toContainText(words);
  await expect(chosen.locator('.text')).toBeFocused();
  await settled(page);

  const many = await items(page).count();
  await press('F6');
  await tabTo(page.locator('.suggestions').getByRole('button', { name: 'Put in' }).first());
  await press('Enter');
  await expect(items(page)).toHaveCount(many + 1);
  await settled(page);
  await press('Shift+F6');
  await tabTo(page.locator('#item-0-0'));
  if ((await page.locator('#item-0-0').getAttribute('aria-pressed')) !== 'true')
    await press('Enter');
  await press('Delete');
  await expect(items(page)).toHaveCount(many);
  await press('Control+z');
  await expect(items(page)).toHaveCount(many + 1);

  await press('p');
  await expect(page.locator('iframe')).toBeVisible();
  await tabTo(page.getByLabel('Leader’s copy'));
  await press('ArrowDown');
  await expect(page.getByLabel('Handout')).toBeChecked();
  const download = page.waitForEvent('download');
  await tabTo(page.getByRole('button', { name: 'Plain text' }));
  await press('Enter');
  expect((await download).suggestedFilename()).toBe('home-handout.txt');
  await press('Escape');
  await expect(page.locator('iframe')).toHaveCount(0);

  await press('Control+k');
  await page.keyboard.type('Run the meeting');
  await press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Home' })).toBeVisible();
  await tabTo(page.getByRole('button', { name: 'Begin' }));
  await press('Enter');
  await expect(page.getByRole('button', { name: 'Done, next' })).toBeFocused();
  await tabTo(page.getByRole('button', { name: 'Leave out' }));
  await press('Space');
  await expect(page.getByText(`2 of ${many + 1}`)).toBeVisible();
  for (let item = 1; item <= many; item += 1) await press('ArrowRight');
  await expect(page.getByText('That was the last of it.')).toBeVisible();
  await tabTo(page.getByLabel('Worth keeping, and for next time'));
  await page.keyboard.type('Begin with the fire.');
  await tabTo(page.getByRole('button', { name: 'Keep the meeting' }));
  await press('Enter');
  await expect(page.getByText('The meeting is kept')).toBeVisible();
  await tabTo(page.getByRole('link', { name: 'what it met over' }));
  await press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Tuesday lessons' })).toBeVisible();
  await expect(page.getByText('Begin with the fire.')).toBeVisible();
  await expect(page.getByText(`${many} asked, 1 left out`)).toBeVisible();
});

test.describe('on a tablet', () => {
  test.use({ viewport: { width: 1024, height: 1366 }, hasTouch: true });

  test('a meeting is run without a network, and kept as it happens', async ({ page, context }) => {
    await toPlan(page);
    await page.locator('#plan-focus').fill('garden');
    await page.locator('#plan-circle').selectOption({ label: 'Harbour Lane Reading Circle' });
    await page.getByRole('button', { name: 'Compose', exact: true }).tap();
    await expect(page.getByRole('button', { name: 'Compose again' })).toBeVisible();
    await settled(page);
    const many = await items(page).count();
    const closing = await page.locator('.guide ol').nth(3).getByRole('listitem').count();
    expect(closing).toBeGreaterThan(0);
    const met = page.getByRole('link', { name: 'what it met over' });
    const circle = (await met.getAttribute('href'))!;
    await servedWithoutNetwork(page);
    await context.setOffline(true);

    await page.getByRole('link', { name: 'Run the meeting' }).tap();
    await page.getByRole('button', { name: 'Begin' }).tap();
    for (const name of ['Back to the guide', 'Leave out', 'Done, next', 'Went flat']) {
      const box = (await page.getByRole('button', { name }).boundingBox())!;
      expect(box.height, name).toBeGreaterThanOrEqual(44);
    }
    const size = await page
      .locator('.now .words')
      .evaluate((node) => Number.parseFloat(getComputedStyle(node).fontSize));
    expect(size).toBeGreaterThanOrEqual(32);
    await page.getByRole('button', { name: 'Went flat' }).tap();
    await page.getByLabel('A note for next time').fill('Too early in the evening');
    await page.getByRole('button', { name: 'Done, next' }).tap();
    await page.getByRole('button', { name: 'Leave out' }).tap();
    await expect(page.getByText(`3 of ${many}`)).toBeVisible();
    // The journal has answered which meeting it is.
    await page.waitForFunction(() =>
      Object.entries({ ...localStorage }).some(
        ([key, held]) =>
          key.startsWith('bookweft.running') && (JSON.parse(held) as { meeting?: string }).meeting,
      ),
    );
    await page.reload();
    await expect(page.getByText(`3 of ${many}`)).toBeVisible();
    await page.getByText(/spares? held ready/).tap();
    await page.getByRole('button', { name: 'Ask next' }).first().tap();
    await page.getByRole('button', { name: 'Done, next' }).tap();
    await expect(page.locator('.part')).toContainText('Spare');
    await page.getByRole('button', { name: 'Done, next' }).tap();
    const toClosing = page.getByRole('button', { name: 'To the closing' });
    if (await toClosing.isEnabled()) await toClosing.tap();
    await expect(page.locator('.part')).toContainText('Closing');

    // Nobody has pressed Keep yet: what happened so far is in the journal all the same.
    await page.evaluate((to) => (location.hash = to), circle);
    const soFar = page.getByRole('listitem').filter({ hasText: 'Garden' }).first();
    await expect(soFar).toContainText('3 asked');
    await expect(page.getByText('Too early in the evening', { exact: true })).toBeVisible();
    await page.goBack();
    await expect(page.locator('.part')).toContainText('Closing');
    for (let item = 0; item < closing; item += 1)
      await page.getByRole('button', { name: 'Done, next' }).tap();
    await page.getByRole('button', { name: 'Keep the meeting' }).tap();
    await expect(page.getByText('The meeting is kept')).toBeVisible();
    await met.tap();
    const latest = page.getByRole('listitem').filter({ hasText: 'Garden' }).first();
    await expect(latest).toContainText(`${3 + closing} asked`);
    await expect(page.getByText('Too early in the evening', { exact: true })).toBeVisible();
    await context.setOffline(false);
  });
});

test('every state of Plan has one heading of its own, and stands in nobody’s way', async ({
  page,
}) => {
  test.setTimeout(360_000);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  const clean = async (state: string, colorScheme: 'light' | 'dark'): Promise<void> => {
    await page.emulateMedia({ colorScheme });
    await expect(page.locator('h1'), state).toHaveCount(1);
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
      .analyze();
    const told = violations.map(
      ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 140)).join(' | ')}`,
    );
    expect(told, `${state}, ${colorScheme}`).toEqual([]);
  };
  await toPlan(page);
  await clean('empty', 'light');
  await page.locator('#plan-focus').fill('home');
  await page.locator('#plan-circle').selectOption({ label: 'Harbour Lane Reading Circle' });
  await page.getByRole('radio', { name: 'Lesson' }).check();
  await page.getByRole('button', { name: 'Compose', exact: true }).click();
  await settled(page);
  await choose(page, 1, 0);
  await page.getByRole('button', { name: 'Why not in?' }).first().click();
  await expect(page.locator('.answer')).toBeVisible();
  await page.getByRole('button', { name: 'Reword' }).click();
  await clean('a lesson', 'dark');
  await page.getByRole('button', { name: 'It has met…' }).click();
  await clean('it has met', 'light');
  await page.keyboard.press('Escape');
  await page.getByRole('link', { name: 'Run the meeting' }).click();
  await page.getByRole('button', { name: 'Begin' }).click();
  await clean('running', 'dark');
  await page.getByRole('button', { name: 'Back to the guide' }).click();
  await page.getByRole('link', { name: 'what it met over' }).click();
  await expect(page.getByRole('heading', { name: 'Meetings' })).toBeVisible();
  await clean('a circle', 'light');
});

test('what is emptied of a circle is gone, and a name it had stays', async ({ page }) => {
  await toPlan(page);
  await page.locator('#plan-circle').selectOption({ label: 'Harbour Lane Reading Circle' });
  await page.getByRole('link', { name: 'what it met over' }).click();
  const alter = page.getByRole('button', { name: 'Alter', exact: true });
  const sheet = page.getByRole('dialog');
  const [ages, many] = [sheet.getByLabel('Ages, as a band'), sheet.getByLabel('How many, usually')];
  await alter.click();
  await expect(ages).not.toHaveValue('');
  await expect(many).not.toHaveValue('');
  await ages.fill('');
  await many.fill('');
  await sheet.getByRole('button', { name: 'Keep the circle' }).click();
  await expect(sheet).toHaveCount(0);
  await alter.click();
  await expect(sheet.getByLabel('Name')).toHaveValue('Harbour Lane Reading Circle');
  await expect(ages).toHaveValue('');
  await expect(many).toHaveValue('');
});
