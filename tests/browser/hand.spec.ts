import { expect, test, type Page } from '@playwright/test';
import { withHarbourLane } from './begin';

/** Where the hand is, and what a key means there: on a page just come to, on a book's page, over a sheet. */

const sheet = (page: Page, name: string | RegExp) => page.getByRole('dialog', { name });
const books = (page: Page) => page.getByRole('listbox', { name: 'Books' });

async function toFirstBook(page: Page): Promise<string> {
  await page.goto('./#/read/books');
  await expect(books(page).getByRole('option').first()).toBeVisible();
  await books(page).focus();
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/#\/read\/book\//);
  return page
    .getByRole('article', { name: 'The book' })
    .getByRole('heading', { level: 1 })
    .innerText();
}

test('N on the page of a book, or of a year, writes on the book', async ({ page }) => {
  await withHarbourLane(page);
  const title = await toFirstBook(page);
  await page.keyboard.press('n');
  const writing = sheet(page, 'Write an entry');
  await expect(writing).toBeVisible();
  await expect(writing.getByRole('button', { name: `Untie from ${title}` })).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(writing).toHaveCount(0);

  await page.goto('./#/read/year/2025');
  const grid = page.getByRole('grid', { name: '2025 by day' });
  await grid.focus();
  await page.keyboard.press('Home');
  const bare = page.getByText(/: nothing marked$/);
  for (let day = 0; day < 31 && (await bare.isVisible()); day += 1)
    await page.keyboard.press('ArrowRight');
  await expect(bare).toHaveCount(0);
  await page.evaluate(() => (document.activeElement as HTMLElement).blur());
  await page.keyboard.press('n');
  const tied = writing.getByRole('button', { name: /^Untie from / }).first();
  await expect(tied.or(sheet(page, /^A note on the book of/))).toBeVisible();
});

test('the palette is not opened over a sheet, and the writing sheet says so', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('?');
  await expect(sheet(page, 'All keys').getByText('/', { exact: true })).toHaveCount(1);
  await expect(sheet(page, 'All keys').getByText('Ctrl A', { exact: true })).toBeVisible();
  await expect(sheet(page, 'All keys')).toBeVisible();
  await page.keyboard.press('Control+k');
  await expect(sheet(page, 'All actions')).toHaveCount(0);
  await page.keyboard.press('Escape');
  await page.keyboard.press('n');
  const words = page.getByRole('dialog', { name: 'Write an entry' }).locator('textarea').first();
  await words.fill('Begun');
  await page.keyboard.press('Control+k');
  await expect(page.getByRole('dialog').getByRole('alert')).toContainText('Ctrl K');
  await page.keyboard.type('dark');
  await expect(words).toHaveValue('Begun');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
});

test('with entries marked, the palette does not begin with untying them', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('x');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('x');
  await expect(page.getByRole('toolbar').getByText('Untie…')).toBeVisible();
  await page.keyboard.press('Control+k');
  const options = page.getByRole('listbox', { name: 'Actions' }).getByRole('option');
  await expect(options.first()).toBeVisible();
  expect(await options.filter({ hasText: /^Untie/ }).count()).toBe(0);
  await page.keyboard.type('untie');
  await expect(options.first()).toContainText(/^Untie .* from /);
});

const onPage = (page: Page) => expect(page.locator('#content')).toBeFocused();

test('a page come to by keys has the hand, so that the next key goes somewhere', async ({
  page,
}) => {
  await page.goto('./');
  await page.getByRole('button', { name: 'Open Harbour Lane' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('listbox', { name: 'Entries found' })).toBeVisible();
  await expect(page.locator('#find-field')).toBeFocused();
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Shift+Digit3');
  const cell = page.locator('[role="gridcell"][tabindex="0"]');
  await expect(cell).toBeVisible();
  await onPage(page);
  await page.keyboard.press('ArrowDown');
  await expect(cell).toBeFocused();
  await page.keyboard.press('Shift+Digit5');
  const year = page.getByRole('grid', { name: /by day$/ });
  await expect(year).toBeVisible();
  await onPage(page);
  await page.keyboard.press('ArrowDown');
  await expect(year).toBeFocused();
  await toFirstBook(page);
  await onPage(page);
});

test('from the words that narrow the books, down is the list; what shows all again gives the hand back', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/read/books');
  await expect(books(page).getByRole('option').first()).toBeVisible();
  await page.keyboard.press('w');
  await page.keyboard.type('heidi');
  await expect(books(page).getByRole('option')).toHaveCount(1);
  await page.keyboard.press('ArrowDown');
  await expect(books(page)).toBeFocused();
  await page.locator('#books-words').fill('nowhere at all');
  await page.getByRole('button', { name: /^Show all/ }).focus();
  await page.keyboard.press('Enter');
  await expect(books(page)).toBeFocused();
});

test('a book, list or challenge that is not there leads back and names no keys of what is not', async ({
  page,
}) => {
  await withHarbourLane(page);
  for (const [what, all] of [
    ['book', 'All books'],
    ['list', 'All lists'],
    ['challenge', 'All challenges'],
  ] as const) {
    await page.goto(`./#/read/${what}/xyz`);
    await expect(page.getByText(`This ${what} is no`)).toBeVisible();
    await expect(page.getByRole('list', { name: 'Keys here' })).toHaveCount(0);
    await page.locator('main').getByRole('link', { name: all }).click();
    await expect(page).toHaveURL(new RegExp(`#/read/${what}s$`));
  }
});

test('on a phone what only tells is soon put away', async ({ page }) => {
  await withHarbourLane(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.clock.install();
  const said = page.locator('.said p');
  await page.locator('main').click({ position: { x: 3, y: 300 } });
  await page.keyboard.press('Control+Shift+z');
  await expect(said).toContainText('There is nothing to do again.');
  await page.clock.fastForward(4200);
  await expect(said).toHaveCount(0, { timeout: 1500 });
});
