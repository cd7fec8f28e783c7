/** Where a screen shows a few of many, the rest can be come to. */
import { expect, test, type Page } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

const MANY = 120;
const idAt = (n: number): string => `0190a000-0000-7000-8000-${String(n).padStart(12, '0')}`;
/** The theme that the others are part of. */
const ABOVE = idAt(MANY);

/** A journal of many themes of one name and a number, and some guides. */
function manyOfOneName(): object {
  const made = '2020-01-01T00:00:00.000Z';
  const theme = (n: number, name: string, broader: string[]): object => ({
    ...{ id: idAt(n), kind: 'theme', name, alternates: [], broader, related: [] },
  });
  const guide = (year: string, at: number): object => ({
    ...{ id: idAt(200 + at), title: `Zebra ${year}`, shape: 'discussion', minutes: 60, parts: [] },
    ...{ focus: { words: [], headings: [], entries: [] }, made: `${year}-01-01T00:00:00.000Z` },
  });
  const entry = { id: idAt(300), kind: 'note', text: 'Stripes.', added: made, changed: made };
  return {
    ...{ format: 'bookweft-journal', version: 1, id: idAt(400), name: 'Many', made },
    headings: [
      theme(MANY, 'Animals', []),
      ...Array.from({ length: MANY }, (_, at) => theme(at, `Zebra ${at}`, [ABOVE])),
    ],
    entries: [{ ...entry, ties: [{ heading: ABOVE, role: 'about', by: 'reader' }] }],
    guides: ['2021', '2023', '2020', '2024', '2022'].map(guide),
  };
}

async function open(page: Page): Promise<void> {
  await page.goto('./');
  await page.getByRole('button', { name: 'Choose a file…' }).click();
  await page.getByLabel('The file').setInputFiles({
    name: 'many.bookweft.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(manyOfOneName())),
  });
  await page.getByRole('button', { name: 'Put in place of this journal' }).click();
  await expect(rows(page).first()).toBeVisible();
}

for (const width of [1440, 390])
  test(`headings, guides and meetings that answer are all come to by keys, ${width} wide`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height: 900 });
    await open(page);
    await page.locator('#find-field').fill('zebra');
    const others = page.getByRole('group', { name: 'Headings, guides and meetings' });
    const buttons = others.getByRole('button');
    await expect(buttons).toHaveCount(4 + 2 + 1);
    await expect(buttons.nth(4)).toContainText('Zebra 2024');
    await expect(buttons.nth(5)).toContainText('Zebra 2023');
    await others.getByRole('button', { name: '49 more' }).press('Enter');
    await expect(buttons).toHaveCount(50 + 5);
    await expect(buttons.nth(4)).toBeFocused();
    for (let at = 4; at < 54; at += 1) await page.keyboard.press('Tab');
    await expect(buttons.nth(54)).toBeFocused();
    await expect(buttons.nth(54)).toBeInViewport({ ratio: 1 });
    // Other words show a few again.
    await page.locator('#find-field').fill('zebr');
    await expect(buttons).toHaveCount(4 + 2 + 1);
  });

test('all that a heading stands with is shown where it is asked for', async ({ page }) => {
  await open(page);
  await page.goto(`./#/find/heading/${ABOVE}`);
  const narrower = page.locator('dl.terms > div').filter({ hasText: 'Narrower' });
  const buttons = narrower.getByRole('button');
  await expect(buttons).toHaveCount(4 + 1);
  await buttons.last().press('Enter');
  await expect(buttons).toHaveCount(MANY);
  await expect(buttons.nth(4)).toBeFocused();
});

test('marked entries are untied from any heading by the palette', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Control+a');
  const bar = page.getByRole('toolbar', { name: 'With the marked entries' });
  await bar.getByRole('button', { name: 'Untie from' }).press('Enter');
  await expect(page.getByRole('menuitem')).toHaveCount(30);
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+k');
  await page.keyboard.type('untie 1 marked entry');
  const options = page.getByRole('listbox', { name: 'Actions' }).getByRole('option');
  await expect(options.first()).toContainText(/^Untie 1 marked entry from /);
  await page.keyboard.press('Enter');
  await expect(page.getByText(/^Untied .* from /)).toBeVisible();
});
