import { expect, test, type Page } from '@playwright/test';
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

async function openCloth(page: Page): Promise<void> {
  await withHarbourLane(page);
  await page.getByRole('link', { name: 'Weave' }).first().click();
  await expect(page.getByRole('gridcell').first()).toBeVisible();
}

const here = (page: Page) => page.locator('[role="gridcell"][tabindex="0"]');

test('a gap is found and filled by keyboard alone', async ({ page }) => {
  await openCloth(page);
  // One tab stop; at first the largest crossing that lacks a lesson idea.
  await expect(here(page)).toHaveCount(1);
  await here(page).focus();
  const said = (await here(page).getAttribute('aria-label')) ?? '';
  expect(said).toMatch(/: \d+ entries, no lesson idea$/);
  await page.keyboard.press('Enter');
  const pane = page.getByRole('region', { name: 'At this crossing' });
  await expect(pane.getByText('No lesson idea yet')).toBeVisible();
  await pane.getByRole('button', { name: 'Write one' }).focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog');
  await expect(sheet).toBeVisible();
  await expect(sheet.locator('textarea').first()).toBeFocused();
  await page.keyboard.type('Trade a lesson: each teaches the next one thing they know.');
  await page.keyboard.press('Control+Enter');
  await expect(sheet).toBeHidden();
  const [where = ''] = said.split(':');
  await expect(page.locator(`[role="gridcell"][aria-label^="${where}: "]`)).not.toHaveAttribute(
    'aria-label',
    /no lesson idea/,
  );
});

test('arrows follow threads, and the table tells the same as the cloth', async ({ page }) => {
  await openCloth(page);
  await here(page).focus();
  await page.keyboard.press('Home');
  const walked: string[] = [];
  for (let step = 0; step < 40; step++) {
    const said = (await here(page).getAttribute('aria-label')) ?? '';
    if (walked.includes(said)) break;
    walked.push(said);
    await page.keyboard.press('ArrowRight');
  }
  expect(walked.length).toBeGreaterThan(3);
  expect(walked.every((said) => /: \d+ (entry|entries)/.test(said))).toBe(true);
  const theme = /, ([^,]+(?:, [^:]+)?): /.exec(walked[0]!)![1]!;
  await page.getByLabel('Show as').selectOption('table');
  await page.getByRole('button', { name: /^Show \d+ more/ }).click();
  const rows = page.locator('tbody tr').filter({
    has: page.getByRole('rowheader').filter({ hasText: new RegExp(`^${theme}$`) }),
  });
  await expect(rows).toHaveCount(walked.length);
  const told = await rows.evaluateAll((list) =>
    list.map((row) => {
      const cells = [...row.querySelectorAll('th, td')].map((cell) => cell.textContent.trim());
      return { book: cells[1]!, total: Number(cells[cells.length - 1]) };
    }),
  );
  walked.forEach((said, at) => {
    expect(said.startsWith(`${told[at]!.book}, ${theme}: ${told[at]!.total} `)).toBe(true);
  });
  // Sorting by entries puts the largest crossing first.
  await page.getByRole('columnheader', { name: 'Entries' }).getByRole('button').click();
  const totals = await page
    .locator('tbody tr td:last-child')
    .evaluateAll((list) => list.map((cell) => Number(cell.textContent)));
  expect(totals).toEqual([...totals].sort((a, b) => b - a));
});

test('two are connected from the cloth, and the chain goes in a guide', async ({ page }) => {
  await openCloth(page);
  await here(page).focus();
  await page.keyboard.press('Home');
  const first = ((await here(page).getAttribute('aria-label')) ?? '').split(', ')[0]!;
  await page.keyboard.press('c');
  await page.keyboard.press('End');
  const last = ((await here(page).getAttribute('aria-label')) ?? '').split(', ')[0]!;
  await page.keyboard.press('c');
  const pane = page.getByRole('region', { name: 'How are these connected?' });
  await expect(pane.getByText(/shortest of \d ways|the only way/)).toBeVisible();
  const steps = pane.locator('ol > li');
  await expect(steps.first()).toContainText(first);
  await expect(steps.last()).toContainText(last);
  const entries = await pane.locator('li.entry').count();
  expect(entries).toBeGreaterThan(0);
  await pane.getByRole('button', { name: 'Another way' }).click();
  await expect(pane.getByText(/2nd of \d ways/)).toBeVisible();
  await pane.getByRole('button', { name: 'The way before' }).click();
  await pane.getByRole('button', { name: 'Put in a guide' }).click();
  await expect(
    page.getByText(`${entries} ${entries === 1 ? 'entry' : 'entries'} put by for a guide`).first(),
  ).toBeAttached();
});

test('a map is opened three steps out and stepped back to where it began', async ({ page }) => {
  // Drawn in software a map is slow, and slower on a busy machine.
  test.setTimeout(300_000);
  await openCloth(page);
  await page.getByLabel('Show as').selectOption('map');
  await expect(page.getByRole('heading', { name: 'The whole journal' })).toBeVisible();
  await page.getByRole('combobox', { name: 'A map around' }).fill('Courage');
  await page.getByRole('option', { name: 'Courage' }).first().click();
  await expect(page.getByRole('heading', { name: 'Around Courage' })).toBeVisible();
  const list = page.getByRole('region', { name: 'What is on the map' });
  const names = (): Promise<string[]> => list.locator('li .name').allTextContents();
  await expect.poll(async () => (await names()).length).toBeGreaterThan(5);
  const begun = await names();
  const map = page.getByRole('application');
  await map.focus();
  const counts = [begun.length];
  // Three of the nodes next to the middle, one after the other.
  for (const nth of [1, 3, 5]) {
    await list.locator('.name').nth(nth).click();
    await map.focus();
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => (await names()).length, { timeout: 30_000 })
      .toBeGreaterThan(counts[counts.length - 1]!);
    counts.push((await names()).length);
  }
  for (let step = 0; step < 3; step++) await page.keyboard.press('Backspace');
  await expect.poll(names).toEqual(begun);
  // What is chosen with Shift and arrows is carried on: from the middle, which has neighbours on every side.
  await list.locator('.name').first().click();
  await map.focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect(page.getByRole('region', { name: 'What is chosen' })).toContainText('2 chosen');
});
