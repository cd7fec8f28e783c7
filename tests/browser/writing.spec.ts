import { expect, test } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

test('unfinished changes and an unfinished entry are put by side by side', async ({ page }) => {
  await withHarbourLane(page);
  const words = page.getByLabel('What you want to keep');
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await list.focus();
  await page.keyboard.press('e');
  const before = await words.inputValue();
  await words.press('Control+End');
  await page.keyboard.type(' More of it.');
  await page.keyboard.press('Escape');
  await page.keyboard.press('n');
  await expect(words).toHaveValue('');
  await page.keyboard.type('Something else altogether.');
  await page.keyboard.press('Escape');

  await list.focus();
  await page.keyboard.press('e');
  await expect(words).toHaveValue(`${before} More of it.`);
  await page.getByRole('button', { name: 'As it is kept' }).click();
  await expect(words).toHaveValue(before);
  await page.keyboard.press('Escape');

  await page.keyboard.press('n');
  await expect(words).toHaveValue('Something else altogether.');
  await page.keyboard.press('Control+Enter');
  await expect(rows(page).first()).toContainText('Something else altogether.');
});

test('no letter is lost that is typed as soon as the sheet is there', async ({ page }) => {
  await withHarbourLane(page);
  const focused = page.evaluate(
    () =>
      new Promise<string | undefined>((done) => {
        const watch = new MutationObserver(() => {
          if (!document.querySelector('dialog textarea')) return;
          watch.disconnect();
          setTimeout(() => done(document.activeElement?.tagName));
        });
        watch.observe(document.body, { childList: true, subtree: true });
      }),
  );
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  expect(await focused).toBe('TEXTAREA');
});

test('what is typed before the sheet has come is in it, and no key of the page', async ({
  page,
}) => {
  let come: () => void = () => {};
  const coming = new Promise<void>((resolve) => (come = resolve));
  await page.route(/\/Writing[^/]*\.js$/, async (route) => {
    await coming;
    await route.continue();
  });
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.type('nThe gate? /no x');
  await page.keyboard.press('Backspace');
  await expect(page.locator('dialog')).toHaveCount(0);
  come();
  await expect(page.getByRole('dialog').locator('textarea').first()).toHaveValue('The gate? /no ');
  await page.keyboard.type('more');
  await expect(page.getByRole('dialog').locator('textarea').first()).toHaveValue(
    'The gate? /no more',
  );
});

test('the marks behind words written from right to left lie behind their words', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  const words = page.getByLabel('What you want to keep');
  await words.fill('*הנמל* בלילה\n\n*The harbour* by night');
  const field = (await words.boundingBox())!;
  const marks = page.locator('.behind .strong');
  await expect(marks).toHaveCount(2);
  const [first, second] = [await marks.nth(0).boundingBox(), await marks.nth(1).boundingBox()];
  expect(field.x + field.width - first!.x - first!.width).toBeLessThan(4);
  // A paragraph written from left to right begins at the left, as in the field.
  expect(second!.x - field.x).toBeLessThan(4);
});

test('everything marked can be untied from all it is tied to, fetched or not', async ({ page }) => {
  await withHarbourLane(page);
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await list.focus();
  await page.keyboard.press('Control+a');
  const held = page.getByLabel('Untie from').locator('option').nth(1);
  await expect
    .poll(async () => Number(/\((\d+)\)/.exec((await held.textContent()) ?? '')?.[1]))
    .toBeGreaterThan(60);
});

test('a key is for the entry that is read, also where that was opened from beside the list', async ({
  page,
}) => {
  await withHarbourLane(page);
  const found = page.getByRole('listbox', { name: 'Entries found' });
  await found.focus();
  const reading = page.getByRole('region', { name: 'Reading' });
  await expect(reading.getByRole('heading', { name: 'Near this' })).toBeVisible();
  const near = reading.getByRole('list').last().getByRole('button').first();
  const begins = (await near.locator('span[dir=auto]').first().innerText()).slice(0, 40);
  await near.click();
  await expect(page).toHaveURL(/#\/find\/entry\//);
  await found.focus();
  await page.keyboard.press('e');
  await expect(page.getByLabel('What you want to keep')).toHaveValue(
    new RegExp(`^${begins.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`),
  );
});
