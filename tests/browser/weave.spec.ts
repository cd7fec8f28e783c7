import { expect, test, type Page } from '@playwright/test';
import { wovenJournal } from '../bench/woven-journal';
import { withEmptyJournal, withHarbourLane } from './begin';

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
  await expect(pane.getByText(/nearest of \d ways|joined directly|one way found/)).toBeVisible();
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

test('a gap of the list is filled by keyboard, and leaves the list', async ({ page }) => {
  await openCloth(page);
  await page.getByLabel('Show as').selectOption('gaps');
  await expect(page.getByRole('heading', { name: 'What is not there yet' })).toBeVisible();
  const gaps = page.getByRole('region', { name: /^Themes with no lesson idea/ });
  const rows = gaps.getByRole('listitem');
  const name = (await rows.first().locator('.name').textContent())!.trim();
  const many = Number(await gaps.locator('h2 .count').textContent());
  await rows
    .first()
    .getByRole('button', { name: /^Write/ })
    .focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog');
  await expect(sheet.locator('textarea').first()).toBeFocused();
  await page.keyboard.type('Bring one thing from home, and tell what it has seen.');
  await page.keyboard.press('Control+Enter');
  await expect(sheet).toBeHidden();
  await expect(gaps.locator('h2 .count')).toHaveText(String(many - 1));
  await expect(rows.locator('.name').filter({ hasText: new RegExp(`^${name}$`) })).toHaveCount(0);
});

/** The cloth of 600 books, folded by year. */
async function openWoven(page: Page): Promise<void> {
  const journal = wovenJournal({ books: 600, themes: 60, strands: 6, each: 6 });
  const { headings, entries } = journal.tables;
  const { id, name, made } = journal;
  const file = {
    ...{ format: 'bookweft-journal', version: 1, id, name, made },
    ...{ headings: [...headings.values()], entries: [...entries.values()] },
  };
  await page.goto('./');
  await page.getByRole('button', { name: 'Choose a file…' }).click();
  await page.getByLabel('The file').setInputFiles({
    name: 'woven.bookweft.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(file)),
  });
  await page.getByRole('button', { name: 'Put in place of this journal' }).click();
  await page.getByRole('link', { name: 'Weave' }).first().click();
  await expect(page.getByRole('gridcell').first()).toBeVisible();
}

test('a fold is opened and closed by keyboard alone, with focus on what was in it', async ({
  page,
}) => {
  await openWoven(page);
  const wide = async (): Promise<number> =>
    Number(await page.getByRole('grid').getAttribute('aria-colcount'));
  const folded = await wide();
  await here(page).focus();
  const [year = ''] = ((await here(page).getAttribute('aria-label')) ?? '').split(', ');
  expect(year).toMatch(/^\d{4}$/);
  await page.keyboard.press('o');
  await expect.poll(wide).toBeGreaterThan(folded);
  await expect(here(page)).toBeFocused();
  await expect(here(page)).not.toHaveAttribute('aria-label', new RegExp(`^${year}, `));
  await page.keyboard.press('o');
  await expect.poll(wide).toBe(folded);
  await expect(here(page)).toBeFocused();
  await expect(here(page)).toHaveAttribute('aria-label', new RegExp(`^${year}, `));
});

test('600 books are folded by year; a year opens and folds again, heads stay, and only what is on screen is in the page', async ({
  page,
}) => {
  await openWoven(page);
  const heads = page.getByRole('columnheader');
  const year = heads.filter({ hasText: /^2015/ });
  await expect(year).toHaveAttribute('aria-label', /^2015, \d+ books$/);
  const folded = await heads.count();
  const books = Number(/(\d+) books/.exec((await year.getAttribute('aria-label'))!)![1]);
  await year.click();
  await expect(heads.filter({ hasText: 'Fold 2015 again' })).not.toHaveCount(0);
  expect(Number(await page.getByRole('grid').getAttribute('aria-colcount'))).toBe(
    folded - 1 + books,
  );
  // All of them by themselves: what is in the page is what a screen holds, whatever the cloth's size.
  await page.getByRole('combobox', { name: 'Books', exact: true }).selectOption('each');
  await expect(page.getByRole('grid')).toHaveAttribute('aria-colcount', '601');
  expect(await heads.count()).toBeLessThan(80);
  const label = page.getByRole('rowheader').first();
  const [x, head] = [(await label.boundingBox())!.x, (await heads.nth(5).boundingBox())!.y];
  await page.getByRole('grid').evaluate((grid) => grid.scrollTo(4000, 60));
  await expect.poll(async () => (await label.boundingBox())!.x).toBe(x);
  expect((await heads.nth(5).boundingBox())!.y).toBe(head);
  expect(await heads.count()).toBeLessThan(80);
});

test('a journal of nothing, and one of a single entry, are told what each showing wants', async ({
  page,
}) => {
  const broken: string[] = [];
  page.on('pageerror', ({ message }) => broken.push(message));
  await withEmptyJournal(page);
  await page.getByRole('link', { name: 'Weave' }).first().click();
  await expect(page.getByText('a knot appears where an entry is tied to both')).toBeVisible();
  await expect(page.getByLabel('Show as')).toHaveCount(0);
  await page.getByRole('button', { name: 'Write an entry' }).click();
  const sheet = page.getByRole('dialog');
  await sheet.locator('textarea').first().fill('The wind over the moor sounds like the sea.');
  await page.keyboard.press('Control+Enter');
  await expect(sheet).toBeHidden();
  // With one entry everything but the cloth can be looked at.
  const showing = page.getByLabel('Show as');
  await showing.selectOption('strands');
  await expect(page.getByText('A strand is what hangs together by its ties')).toBeVisible();
  await showing.selectOption('gaps');
  await expect(page.getByRole('heading', { name: /^Books with no question/ })).toBeVisible();
  // Of a book with one entry nothing is said to be missing, and so nothing to be there.
  await expect(page.getByText('Every book has a question.')).toHaveCount(0);
  await expect(page.getByText('Every book with two entries or more has a question.')).toBeVisible();
  await showing.selectOption('map');
  await expect(page.getByRole('button', { name: /The wind over the moor/ }).first()).toBeVisible();
  await showing.selectOption('table');
  await expect(page.getByText('You have no book with entries so far')).toBeVisible();
  expect(broken).toEqual([]);
});
