import { readFileSync } from 'node:fs';
import { expect, test, type Locator, type Page } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

const field = (page: Page): Locator => page.locator('#find-field');

test('who leaves Find comes back to the search, the chosen row and the marks as they were', async ({
  page,
}) => {
  await withHarbourLane(page);
  await field(page).fill('courage');
  await expect(page.getByText(/nearest first/)).toBeVisible();
  const kind = page.getByRole('group', { name: 'Kind' }).getByRole('button').first();
  await kind.click();
  await expect(kind).toHaveAttribute('aria-pressed', 'true');
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await expect(list).toHaveAttribute('aria-busy', 'false');
  await list.focus();
  for (let times = 0; times < 2; times += 1) await page.keyboard.press('PageDown');
  await page.keyboard.press('x');
  const chosen = rows(page).and(page.locator('[aria-selected="true"]'));
  const [words, place, count] = await Promise.all([
    chosen.innerText(),
    chosen.getAttribute('aria-posinset'),
    page.locator('#find-count').innerText(),
  ]);
  expect(Number(place)).toBeGreaterThan(8);
  await expect(page.getByText('1 entry marked')).toBeVisible();

  await page.keyboard.press('Shift+4');
  await expect(field(page)).toHaveCount(0);
  await page.goBack();
  await expect(field(page)).toHaveValue('courage');
  await expect(field(page)).toBeFocused();
  await expect(page.getByText('1 entry marked')).toBeVisible();
  await expect(kind).toHaveAttribute('aria-pressed', 'true');
  await expect(page.locator('#find-count')).toHaveText(count);
  await expect(chosen).toHaveAttribute('aria-posinset', place!);
  expect(await chosen.innerText()).toBe(words);
  await expect(chosen).toBeInViewport({ ratio: 0.9 });

  // What is typed now is a new search, and Escape goes to the list as ever.
  await page.keyboard.type('winter');
  await expect(field(page)).toHaveValue('winter');
  await page.keyboard.press('Escape');
  await expect(list).toBeFocused();
});

test('of a journal opened again the first row is the chosen one, whatever came first from the store', async ({
  page,
}) => {
  await withHarbourLane(page);
  const all = await page.locator('#find-count').innerText();
  await expect(page.getByText(/^Kept/).first()).toBeAttached();
  const pane = page.getByRole('region', { name: 'Reading' });
  for (let times = 0; times < 3; times += 1) {
    await page.reload();
    await expect(page.locator('#find-count')).toHaveText(all);
    await expect(rows(page).first()).toHaveAttribute('aria-posinset', '1');
    await expect(rows(page).first()).toHaveAttribute('aria-selected', 'true');
    const title = await rows(page).first().locator('.title').innerText();
    await expect(pane.getByRole('heading', { level: 1 })).toHaveText(title);
  }
});

test('a journal taken in place of another is searched for the same words, and kept to nothing it has not', async ({
  page,
}) => {
  await withHarbourLane(page);
  await field(page).fill('centipede');
  await expect(page.getByText(/^[1-9] entr(y|ies), nearest first/)).toBeVisible();
  const themes = page.getByRole('group', { name: 'Theme' }).getByRole('button');
  await themes.first().click();
  await expect(themes.first()).toHaveAttribute('aria-pressed', 'true');
  await rows(page).first().locator('.mark').click();
  await expect(page.getByText('1 entry marked')).toBeVisible();
  await page.goto('./#/plan');
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByRole('menuitem', { name: /Open a copy/ }).click();
  await page.getByLabel('The file').setInputFiles({
    name: 'other.bookweft.json',
    mimeType: 'application/json',
    buffer: Buffer.from(otherJournal()),
  });
  await page.getByRole('button', { name: 'Put in place of this journal' }).click();
  await expect(page.getByRole('dialog', { name: 'Open a copy' })).toHaveCount(0);
  await page.goto('./#/find');
  await expect(field(page)).toHaveValue('centipede');
  await expect(page.locator('#find-count')).toHaveText('1 of 2');
  await expect(rows(page).first()).toContainText('A centipede of another journal.');
  await expect(page.getByText('1 entry marked')).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Clear', exact: true })).toHaveCount(0);
});

test('what one window puts by for a guide the other has too, and takes out again', async ({
  context,
  page,
}) => {
  await withHarbourLane(page);
  await rows(page).first().click();
  await expect(page).toHaveURL(/#\/find\/entry\//);
  const at = page.url();
  const other = await context.newPage();
  await other.goto(at);
  const put = (from: Page): Locator => from.getByRole('button', { name: 'Put in a guide' });
  const out = (from: Page): Locator =>
    from.getByRole('button', { name: 'No longer put by for a guide' });
  await expect(put(other)).toBeVisible();
  await put(page).click();
  await out(other).click();
  await expect(put(page)).toBeVisible();
  await put(page).click();
  await page.close();
  await other.close();
  const again = await context.newPage();
  await again.goto(at);
  await expect(out(again)).toBeVisible();
});

function otherJournal(): string {
  const demo = JSON.parse(
    readFileSync(new URL('../../demo-data/harbour-lane.bookweft.json', import.meta.url), 'utf8'),
  ) as { format: string; version: number };
  const at = '2026-01-01T00:00:00.000Z';
  const entry = (last: string, text: string): object => ({
    id: `019b7700-0000-7000-8000-00000000000${last}`,
    kind: 'note',
    text,
    ties: [],
    added: at,
    changed: at,
  });
  const none = Object.fromEntries(
    Object.entries(demo).map(([name, held]) => [name, Array.isArray(held) ? [] : held]),
  );
  return JSON.stringify({
    ...none,
    id: '019b7700-0000-7000-8000-000000000000',
    name: 'Another journal',
    made: at,
    entries: [entry('1', 'A centipede of another journal.'), entry('2', 'Something else.')],
  });
}
