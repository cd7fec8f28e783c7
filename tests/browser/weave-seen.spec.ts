import { expect, test, type Page } from '@playwright/test';
import { readFileSync } from 'node:fs';
import { wovenJournal } from '../bench/woven-journal';
import { withHarbourLane } from './begin';

const list = (page: Page) => page.getByRole('region', { name: 'What is on the map' });
const around = (page: Page, name: string) =>
  page.getByRole('heading', { name: `Around ${name}`, exact: true });

/** The id of a heading in Harbour Lane. */
function idOf(kind: string, name: string): string {
  const file = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');
  const { headings } = JSON.parse(file) as { headings: Record<'id' | 'kind' | 'name', string>[] };
  return headings.find((heading) => heading.kind === kind && heading.name === name)!.id;
}

/** Opens the first entry found for words, and answers what it is called in a list: its title, or the words it begins with. */
async function openEntry(page: Page, words: string): Promise<string> {
  await page.locator('#find-field').fill(words);
  await page.locator('#find-field').press('Enter');
  await expect(page).toHaveURL(/#\/find\/entry\//);
  const [id] = page.url().split('/').slice(-1);
  const file = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');
  const { entries } = JSON.parse(file) as {
    entries: { id: string; title?: string; text: string }[];
  };
  const entry = entries.find((one) => one.id === id)!;
  return entry.title ?? entry.text.slice(0, 30);
}

for (const width of [1440, 390])
  test(`an entry is seen in the middle of a map, with what it is tied to, ${width} wide`, async ({
    page,
  }) => {
    await withHarbourLane(page);
    await page.setViewportSize({ width, height: 844 });
    const words = await openEntry(page, 'courage');
    await page.getByRole('link', { name: 'See in the weave' }).click();
    await expect(page.getByRole('heading', { name: /^Around / })).toBeVisible();
    await expect(list(page).getByRole('heading', { name: 'In the middle' })).toBeVisible();
    await expect(list(page).locator('li .name').first()).toContainText(words);
    expect(await list(page).locator('li').count()).toBeGreaterThan(1);
  });

test('an entry is seen in the weave by the palette too', async ({ page }) => {
  await withHarbourLane(page);
  const words = await openEntry(page, 'courage');
  await page.keyboard.press('Control+k');
  await page.keyboard.type('See the entry in the weave');
  await page.keyboard.press('Enter');
  await expect(list(page).locator('li .name').first()).toContainText(words);
});

test('a person is seen in the middle of a map; from the ring round a theme too', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto(`./#/find/heading/${idOf('person', 'Charlotte Brontë')}`);
  await page.getByRole('link', { name: 'See in the weave' }).click();
  await expect(around(page, 'Charlotte Brontë')).toBeVisible();
  await page.goto(`./#/weave/heading/${idOf('book', 'Jane Eyre')}`);
  const ring = page.getByRole('list', { name: 'What stands around Jane Eyre' });
  await ring
    .getByRole('button', { name: /, person: / })
    .first()
    .click();
  await expect(page.getByRole('heading', { name: /^Around / })).toBeVisible();
});

test('on a phone a theme is seen as its thread, and not a book’s', async ({ page }) => {
  await withHarbourLane(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`./#/find/heading/${idOf('theme', 'Courage')}`);
  await page.getByRole('link', { name: 'See in the weave' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Courage' })).toBeVisible();
  await expect(page.getByRole('button', { name: 'A theme', exact: true })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
});

test('Weave is as it was left when one is back from what was read; another link is followed', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto(`./#/weave/heading/${idOf('theme', 'Courage')}`);
  const pane = page.getByRole('region', { name: 'At this crossing' });
  await expect(pane.getByRole('heading', { name: 'Courage' })).toBeVisible();
  await page.getByLabel('Show as').selectOption('gaps');
  const quotes = page.getByRole('region', { name: /^Quotes/ });
  await quotes.getByRole('listitem').locator('.name').first().click();
  await expect(page).toHaveURL(/#\/find\/entry\//);
  await page.goBack();
  await expect(page.getByRole('heading', { name: 'What is not there yet' })).toBeVisible();
  await page.goto(`./#/find/heading/${idOf('theme', 'Gardens')}`);
  await page.getByRole('link', { name: 'See in the weave' }).click();
  await expect(pane.getByRole('heading', { name: 'Gardens' })).toBeVisible();
});

test('what was removed meanwhile is nowhere in the weave as it was left', async ({ page }) => {
  await withHarbourLane(page);
  const words = await openEntry(page, 'courage');
  await page.getByRole('link', { name: 'See in the weave' }).click();
  await expect(list(page).locator('li .name').first()).toContainText(words);
  await page.goBack();
  await page.getByRole('button', { name: /^Remove this/ }).click();
  await page.getByRole('link', { name: 'Weave', exact: true }).first().click();
  await expect(page.getByRole('heading', { name: 'The whole journal' })).toBeVisible();
  await expect(list(page).locator('li .name').first()).toBeVisible();
  await expect(page.locator('main')).not.toContainText(words);
});

test('books of which no entry is tied to a theme are told so, and can be looked at otherwise', async ({
  page,
}) => {
  const { id, name, made, tables } = wovenJournal({ books: 4, themes: 3, strands: 1, each: 3 });
  const headings = [...tables.headings.values()];
  const themes = new Set(headings.filter(({ kind }) => kind === 'theme').map((one) => one.id));
  const entries = [...tables.entries.values()].map((entry) => ({
    ...entry,
    ties: entry.ties.filter(({ heading }) => !themes.has(heading)),
  }));
  const format = { format: 'bookweft-journal', version: 1 };
  await page.goto('./');
  await page.getByRole('button', { name: 'Choose a file…' }).click();
  await page.getByLabel('The file').setInputFiles({
    name: 'untied.bookweft.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify({ ...format, id, name, made, headings, entries })),
  });
  await page.getByRole('button', { name: 'Put in place of this journal' }).click();
  await page.getByRole('link', { name: 'Weave' }).first().click();
  await expect(page.getByText('no entry is tied to a theme yet')).toBeVisible();
  await page.getByLabel('Show as').selectOption('gaps');
  await expect(page.getByRole('heading', { name: 'What is not there yet' })).toBeVisible();
});

test('the name of a strand and that of a theme made of another are two', async ({ page }) => {
  await withHarbourLane(page);
  await page.goto('./#/weave');
  await page.getByLabel('Show as').selectOption('strands');
  const strands = page.locator('li[data-strand]');
  await strands.nth(0).getByRole('button', { name: 'Rename' }).click();
  await strands.nth(0).getByLabel('Name of the strand').fill('A name of mine');
  await strands.nth(1).getByRole('button', { name: 'Adopt as a theme' }).click();
  await expect(strands.nth(1).getByLabel('Name of the theme')).not.toHaveValue('A name of mine');
  await expect(strands.nth(0).getByLabel('Name of the strand')).toHaveValue('A name of mine');
});
