import { expect, test, type Page } from '@playwright/test';
import { readFileSync } from 'node:fs';
import { rows, withHarbourLane } from './begin';

const list = (page: Page) => page.getByRole('region', { name: 'What is on the map' });
const around = (page: Page, name: string) =>
  page.getByRole('heading', { name: `Around ${name}`, exact: true });

/** The id of a heading in Harbour Lane. */
function idOf(kind: string, name: string): string {
  const file = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');
  const { headings } = JSON.parse(file) as { headings: Record<'id' | 'kind' | 'name', string>[] };
  return headings.find((heading) => heading.kind === kind && heading.name === name)!.id;
}

/** Opens the first entry found for words, and answers the words it begins with. */
async function openEntry(page: Page, words: string): Promise<string> {
  await page.locator('#find-field').fill(words);
  await expect(rows(page).first()).toBeVisible();
  await page.locator('#find-field').press('Enter');
  await expect(page).toHaveURL(/#\/find\/entry\//);
  const text = (await page.locator('article .prose').first().textContent())!.trim();
  return text.slice(0, 30);
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
