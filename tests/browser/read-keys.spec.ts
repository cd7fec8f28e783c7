import { expect, test, type Page } from '@playwright/test';
import { withHarbourLane } from './begin';

/** The Read place with no mouse and no shortcut of the test's own: only keys that a reader has, and where the focus goes by them. */

const books = (page: Page) => page.getByRole('listbox', { name: 'Books' });
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const at = document.activeElement as HTMLInputElement | null;
    const said = at?.getAttribute('aria-label') ?? at?.labels?.[0]?.textContent ?? at?.textContent;
    const list = at?.getAttribute('role') === 'listbox' ? ', a list' : '';
    return (said ?? '').replace(/\s+/g, ' ').trim() + list;
  });

/** Tab, or Shift and Tab, until the focus is on what is called so. */
async function onto(page: Page, name: RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  const passed: string[] = [];
  for (let step = 0; step < 90; step += 1) {
    const here = await focused(page);
    if (name.test(here)) return;
    passed.push(here.slice(0, 30));
    await page.keyboard.press(key);
  }
  throw new Error(`Tab does not lead to ${name}; it passes ${passed.join(' | ')}`);
}

async function type(page: Page, name: RegExp, text: string): Promise<void> {
  await onto(page, name);
  await page.keyboard.type(text);
}

async function press(page: Page, name: RegExp): Promise<void> {
  await onto(page, name);
  await page.keyboard.press('Enter');
}

test('books are added by ISBN, by typing and by a table, and all of a table is taken back', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/read/books');
  await expect(page.getByText('20 books', { exact: true })).toBeVisible();
  await page.keyboard.press('a');
  const sheet = page.getByRole('dialog');
  await onto(page, /^ISBN/, 'Shift+Tab');
  await page.keyboard.type('978-0-306-40615-7');
  await expect(sheet).toContainText('the digits agree');
  await type(page, /^Title$/, 'Dead Reckoning');
  await page.keyboard.press('Enter');
  await expect(sheet).toContainText('Added Dead Reckoning');
  await type(page, /^Title$/, 'The Silver Skates');
  await type(page, /^Author/, 'Mary Mapes Dodge');
  await type(page, /^Finished/, '2024-02');
  await press(page, /^Add the book$/);
  await expect(sheet).toContainText('Added The Silver Skates');
  await onto(page, /By ISBN or by typing/, 'Shift+Tab');
  await page.keyboard.press('ArrowRight');
  await type(
    page,
    /Or paste the table here/,
    'title,author\nEmma,Jane Austen\nPersuasion,Jane Austen',
  );
  await press(page, /^Look it over$/);
  await expect(sheet.getByRole('button', { name: 'Keep 2 books' })).toBeVisible();
  await press(page, /^Keep 2 books$/);
  await expect(sheet).toBeHidden();
  await expect(page.getByText('24 books', { exact: true })).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(page.getByText('22 books', { exact: true })).toBeVisible();
});

test('marked books are changed at once, and one undo takes all of it back', async ({ page }) => {
  await withHarbourLane(page);
  await page.goto('./#/read/books');
  await expect(books(page).getByRole('option').first()).toBeVisible();
  await onto(page, /^Books, a list$/);
  await page.keyboard.press('Space');
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowDown');
  const bulk = page.getByRole('toolbar', { name: 'With the marked books' });
  await expect(bulk).toContainText('3 books marked');
  await press(page, /^Remove$/);
  await expect(page.getByText('17 books', { exact: true })).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(page.getByText('20 books', { exact: true })).toBeVisible();
});

test('the year is walked by arrows, told day by day, and left for another', async ({ page }) => {
  await withHarbourLane(page);
  await page.goto('./#/read/year/2025');
  const grid = page.getByRole('grid', { name: '2025 by day' });
  await expect(grid).toBeVisible();
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  await page.keyboard.press('ArrowDown');
  await expect(grid).toBeFocused();
  const day = (): Promise<string | null> => grid.getAttribute('aria-activedescendant');
  await page.keyboard.press('Home');
  expect(await day()).toBe('day-2025-01-01');
  await page.keyboard.press('ArrowLeft');
  expect(await day()).toBe('day-2025-01-01');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowDown');
  expect(await day()).toBe('day-2025-02-03');
  // Each day speaks: what was open on it, what ended, who met.
  const said = await page.locator('#day-2025-02-03').getAttribute('aria-label');
  expect(said).toMatch(/^Monday 3 February: /);
  await page.keyboard.press('End');
  expect(await day()).toBe('day-2025-12-31');
  await page.keyboard.press('PageUp');
  await expect(page.getByRole('heading', { level: 1, name: '2024' })).toBeVisible();
  await page.keyboard.press('y');
  await expect(page.getByRole('dialog')).toContainText('2023');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toBeHidden();
});

test('a list is made, filled and ordered; its plan is part of the journal and is taken back', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/read/lists');
  await expect(page.getByLabel('Name', { exact: true })).toBeVisible();
  await type(page, /^Name$/, 'Snow days');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Snow days' })).toBeVisible();
  const list = page.locator('main ol > li');
  for (const [at, title] of ['heidi', 'black beauty', 'jane eyre'].entries()) {
    await type(page, /^Put a book on the list$/, title);
    await expect(page.getByRole('option').first()).toContainText(new RegExp(title, 'i'));
    await page.keyboard.press('Enter');
    await expect(list).toHaveCount(at + 1);
  }
  await onto(page, /^Heidi$/, 'Shift+Tab');
  await page.keyboard.press('Alt+ArrowDown');
  await page.keyboard.press('Alt+ArrowDown');
  await expect(list.nth(2)).toContainText('Heidi');
  await expect(list.nth(2).getByRole('link')).toBeFocused();
  await type(page, /^Pages a day$/, '20');
  await page.keyboard.press('Tab');
  const left = page.getByRole('complementary', { name: 'What is left' });
  await expect(left).toContainText('At 20 pages a day it ends on');
  await onto(page, /^Sat$/);
  const ends = await left.getByRole('status').innerText();
  await page.keyboard.press('Space');
  await expect(left.getByRole('status')).not.toHaveText(ends);
  await expect(page.getByText('Kept on this computer')).toBeVisible();
  await page.reload();
  await expect(page.getByLabel('Pages a day')).toHaveValue('20');
  await expect(page.getByLabel('Sat')).toBeChecked();
});

test('a plan set by keys is undone by keys', async ({ page }) => {
  await withHarbourLane(page);
  await page.goto('./#/read/lists');
  await expect(page.getByRole('link', { name: /^Tuesday lessons/ })).toBeVisible();
  await press(page, /^Tuesday lessons/);
  await expect(page.getByLabel('Pages a day')).toBeVisible();
  await type(page, /^Pages a day$/, '15');
  await page.keyboard.press('Tab');
  const left = page.getByRole('complementary', { name: 'What is left' });
  await expect(left).toContainText('At 15 pages a day');
  await page.keyboard.press('Control+z');
  await expect(left).not.toContainText('At 15 pages a day');
  await expect(page.getByLabel('Pages a day')).toHaveValue('');
});

test('a challenge is made from pasted words, and an open prompt says why it is open', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/read/challenges');
  await expect(page.getByLabel('26 letters')).toBeVisible();
  await onto(page, /^26 letters$/);
  for (let step = 0; step < 4; step += 1) await page.keyboard.press('ArrowDown');
  await type(page, /^A prompt on each line/, 'A title beginning with Q\nA book over 400 pages');
  await press(page, /^Look it over$/);
  await expect(page.getByLabel('Name', { exact: true })).toBeVisible();
  await type(page, /^Name$/, 'Two small ones');
  await press(page, /^Keep the challenge$/);
  await expect(page.getByRole('heading', { level: 1, name: 'Two small ones' })).toBeVisible();
  await expect(page.locator('main ol > li').first()).toContainText('No book finished');
});

test('the page for drawing is reached, its pen chosen, and left again', async ({ page }) => {
  await withHarbourLane(page);
  await page.keyboard.press('Alt+n');
  await expect(page.getByLabel('What you want to keep')).toBeFocused();
  await page.keyboard.type('The garden wall');
  await press(page, /^Draw a sketch$/);
  const sheet = page.getByRole('dialog', { name: 'A sketch page' });
  await expect(sheet).toBeVisible();
  await onto(page, /^usual$/);
  await page.keyboard.press('ArrowRight');
  await expect(sheet.getByLabel('broad')).toBeChecked();
  await page.keyboard.press('Escape');
  await expect(sheet).toBeHidden();
  await expect(page.getByLabel('What you want to keep')).toHaveValue('The garden wall');
});
