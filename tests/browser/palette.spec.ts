import { expect, test, type Locator, type Page } from '@playwright/test';
import { withHarbourLane } from './begin';

/** Keys that move or open are no actions to be found by words. */
const MOVES = new Set(['↑', '↓', '←', '→', 'Enter', 'Space', 'Shift']);

const dialog = (page: Page): Locator => page.getByRole('dialog');

/** The keys of the place in view, as the page of keys names them. */
async function keysNamed(page: Page): Promise<string[]> {
  await page.keyboard.press('?');
  const lists = dialog(page).locator('dl');
  await expect(lists).toHaveCount(2);
  const keys = await lists.nth(1).locator('kbd').allInnerTexts();
  await page.keyboard.press('Escape');
  await expect(dialog(page)).toHaveCount(0);
  return keys.map((key) => key.trim()).filter((key) => !MOVES.has(key));
}

/** What the palette offers: words and, where it has them, keys. */
async function offered(page: Page): Promise<{ says: string; keys: string[] }[]> {
  await page.keyboard.press('Control+k');
  const options = page.getByRole('listbox', { name: 'Actions' }).getByRole('option');
  await expect(options.first()).toBeVisible();
  const rows = await options.evaluateAll((nodes) =>
    nodes.map((node) => ({
      says: node.children[0]?.textContent ?? '',
      keys: (node.children[1]?.textContent ?? '').split(/, or /),
    })),
  );
  await page.keyboard.press('Escape');
  await expect(dialog(page)).toHaveCount(0);
  return rows;
}

async function everyKeyHasWords(page: Page, screen: string): Promise<void> {
  const named = await keysNamed(page);
  expect(named.length, screen).toBeGreaterThan(0);
  const keys = (await offered(page)).flatMap((row) => row.keys);
  expect(
    named.filter((key) => !keys.includes(key)),
    `${screen}: keys without an action in the palette`,
  ).toEqual([]);
}

/** Types words into the palette and takes the first action they find. */
async function act(page: Page, words: string): Promise<void> {
  await page.keyboard.press('Control+k');
  await page.keyboard.type(words);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('dialog', { name: 'All actions' })).toHaveCount(0);
}

test('every key of every place is an action that words find', async ({ page }) => {
  test.setTimeout(300_000);
  await withHarbourLane(page);
  const found = page.getByRole('listbox', { name: 'Entries found' });
  await found.focus();
  await everyKeyHasWords(page, 'Find');

  await page.goto('./#/weave');
  await page.locator('[role="gridcell"][tabindex="0"]').focus();
  await everyKeyHasWords(page, 'Weave, the cloth');
  await act(page, 'show the map');
  const map = page.getByRole('application');
  const onMap = page.getByRole('region', { name: 'What is on the map' });
  await expect(onMap.locator('li .name').first()).toBeVisible();
  await map.focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: 'Step back' })).toBeEnabled();
  await map.focus();
  await page.keyboard.press('ArrowRight');
  await everyKeyHasWords(page, 'Weave, the map');

  await page.goto('./#/plan');
  await page.getByRole('button', { name: 'Crossness and courage', exact: true }).first().click();
  await page.locator('#item-0-0').focus();
  await page.keyboard.press('ArrowDown');
  await everyKeyHasWords(page, 'Plan, a guide');

  await page.goto('./#/read');
  await page.getByRole('gridcell').or(page.locator('[data-day]')).first().waitFor();
  await everyKeyHasWords(page, 'Read, the year');
  await act(page, 'go to the books');
  await page.getByRole('listbox', { name: 'Books' }).focus();
  await everyKeyHasWords(page, 'Read, the books');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/#\/read\/book\//);
  await everyKeyHasWords(page, 'Read, a book');
  await act(page, 'go to the lists');
  await page.locator('a[href^="#/read/list/"]').first().click();
  await page.locator('a[id^="listed-"]').first().focus();
  await everyKeyHasWords(page, 'Read, a list');

  await page.goto('./#/gather');
  await act(page, 'six sample notes');
  const piece = page.locator('article[aria-current=true]');
  await expect(piece).toBeFocused({ timeout: 60_000 });
  await everyKeyHasWords(page, 'Gather, the bench');
});

test('what is found by words is done: to a marked pair, to a heading, to the scheme', async ({
  page,
}) => {
  await withHarbourLane(page);
  const found = page.getByRole('listbox', { name: 'Entries found' });
  await found.focus();
  expect((await offered(page)).map(({ says }) => says)).not.toContain('Unmark all');
  await page.keyboard.press('x');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('x');
  await act(page, 'marked questions');
  await expect(page.getByText('Changed 2 entries to questions').first()).toBeVisible();
  await act(page, 'take back');
  await expect(page.getByText(/^Taken back/)).toBeVisible();
  await act(page, 'unmark all');
  await expect(page.getByRole('toolbar', { name: 'With the marked entries' })).toHaveCount(0);

  await page.locator('#find-field').fill('courage');
  await page
    .getByRole('region', { name: 'Found' })
    .getByText('Courage', { exact: true })
    .first()
    .click();
  await expect(page.getByRole('heading', { name: 'Courage', level: 1 })).toBeVisible();
  await act(page, 'alter heading courage');
  await expect(page.getByLabel('Name', { exact: true })).toHaveValue('Courage');
  await page.getByLabel('Name', { exact: true }).fill('  ');
  await page.getByRole('region', { name: 'Reading' }).getByRole('button', { name: 'Keep' }).click();
  await expect(page.getByText('A heading needs a name')).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Courage', level: 1 })).toBeVisible();

  await act(page, 'dark scheme');
  await expect(page.locator('html')).toHaveAttribute('data-scheme', 'dark');
});
