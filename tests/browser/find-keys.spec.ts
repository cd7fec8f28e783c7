import { expect, test, type Page } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

async function openHeading(page: Page, name: string): Promise<void> {
  await page.locator('#find-field').fill(name);
  await page
    .getByRole('group', { name: 'Headings, guides and meetings' })
    .getByRole('button', { name })
    .first()
    .click();
  await expect(page.getByRole('heading', { level: 1, name })).toBeVisible();
}

test('on the page of a heading a key is for the entry that has the focus, and for no other', async ({
  page,
}) => {
  await withHarbourLane(page);
  await openHeading(page, 'Hospitality');
  const entry = page.getByRole('region', { name: 'Tied to it' }).getByRole('listitem').first();
  const begins = (await entry.locator('span[dir=auto]').innerText()).slice(0, 40);
  const words = page.getByLabel('What you want to keep');
  const alter = page.getByRole('option', { name: /^Alter the entry/ });

  await page.getByRole('heading', { level: 1 }).click();
  await page.keyboard.press('e');
  await page.keyboard.press('n');
  await expect(page.getByRole('dialog', { name: 'Write an entry' })).toBeVisible();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+k');
  await page.keyboard.type('alter');
  await expect(page.getByRole('option', { name: /Alter the heading/ })).toBeVisible();
  await expect(alter).toHaveCount(0);
  await page.keyboard.press('Escape');

  await entry.getByRole('button').focus();
  await page.keyboard.press('e');
  await expect.poll(async () => (await words.inputValue()).slice(0, 20)).toBe(begins.slice(0, 20));
  await page.keyboard.press('Escape');
  await expect(entry.getByRole('button')).toBeFocused();
  await page.keyboard.press('Control+k');
  await page.keyboard.type('alter');
  await alter.click();
  await expect.poll(async () => (await words.inputValue()).slice(0, 20)).toBe(begins.slice(0, 20));
});

test.describe('in a low window', () => {
  test.use({ viewport: { width: 1200, height: 640 } });

  test('the arrows are the reading pane’s where it has the focus, and the list’s elsewhere', async ({
    page,
  }) => {
    await withHarbourLane(page);
    const pane = page.getByRole('region', { name: 'Reading' });
    const chosen = (at: number): Promise<unknown> =>
      expect(rows(page).nth(at)).toHaveAttribute('aria-selected', 'true');
    await expect(pane.getByRole('heading', { name: 'Near this' })).toBeVisible();
    await pane.focus();
    await page.keyboard.press('PageDown');
    await expect.poll(() => pane.evaluate((node) => node.scrollTop)).toBeGreaterThan(0);
    await chosen(0);
    await page.getByRole('listbox', { name: 'Entries found' }).focus();
    await page.keyboard.press('ArrowDown');
    await chosen(1);
  });
});

test.describe('in a narrow window', () => {
  test.use({ viewport: { width: 640, height: 450 } });

  test('the chosen row is in view and has a sign', async ({ page }) => {
    await withHarbourLane(page);
    await page.getByRole('listbox', { name: 'Entries found' }).focus();
    for (let times = 0; times < 3; times++) await page.keyboard.press('PageDown');
    const chosen = rows(page).nth(24);
    await expect(chosen).toHaveAttribute('aria-selected', 'true');
    await expect(chosen).toBeInViewport({ ratio: 0.9 });
    const edge = (at: number): Promise<string> =>
      rows(page)
        .nth(at)
        .evaluate((node) => getComputedStyle(node).boxShadow);
    expect(await edge(24)).not.toBe(await edge(23));
  });

  test('the hand goes on to the list when there are no more rows to show', async ({ page }) => {
    await withHarbourLane(page);
    await page.locator('#find-field').fill('garden');
    const list = page.getByRole('listbox', { name: 'Entries found' });
    await expect(list).toHaveAttribute('aria-busy', 'false');
    const said = page.getByText(/^[1-9]\d* entries, nearest first/);
    await expect(said).toBeVisible();
    const more = page.getByRole('button', { name: 'Show more' });
    await expect(more).toBeVisible();
    const total = Number.parseInt(await said.innerText(), 10);
    for (let shown = 30; shown < total; shown += 30) {
      await more.press('Enter');
      await expect(rows(page)).toHaveCount(Math.min(total, shown + 30));
    }
    await expect(more).toHaveCount(0);
    await expect(list).toBeFocused();
  });
});

test('Enter right after the last letter opens what the words find, not what was there before', async ({
  page,
}) => {
  await withHarbourLane(page);
  const newest = await rows(page).first().getAttribute('id');
  await page.locator('#find-field').fill('courage');
  await page.locator('#find-field').press('Enter');
  await expect(page).toHaveURL(/#\/find\/entry\//);
  const found = `row-${page.url().split('/').at(-1)}`;
  await expect(rows(page).first()).toHaveAttribute('id', found);
  await expect(rows(page).first()).toHaveAttribute('aria-selected', 'true');
  expect(found).not.toBe(newest);
  await expect(page.locator('#found-list')).toBeFocused();

  await page.locator('#find-field').fill('garden');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await expect(page).not.toHaveURL(new RegExp(found.replace('row-', '')));
  await expect(rows(page).nth(1)).toHaveAttribute('aria-selected', 'true');
  await expect(rows(page).nth(1)).toHaveAttribute('id', `row-${page.url().split('/').at(-1)}`);
});
