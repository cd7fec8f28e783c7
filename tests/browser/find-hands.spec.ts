import { expect, test } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

test('the focus stays on the page when everything found is removed, and comes back with it', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('centipede');
  await expect(page.getByText(/^[1-9] entr(y|ies), nearest first/)).toBeVisible();
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Control+a');
  const bar = page.getByRole('toolbar', { name: 'With the marked entries' });
  await bar.getByRole('button', { name: 'Remove' }).click();
  await expect(page.getByText('Nothing has centipede.')).toBeVisible();
  const focus = (): Promise<string> =>
    page.evaluate(() => document.activeElement?.textContent ?? document.activeElement!.tagName);
  await expect.poll(focus).toContain('Nothing has centipede.');
  await page.keyboard.press('Control+z');
  await expect(rows(page).first()).toBeVisible();
  await expect(page.getByRole('listbox', { name: 'Entries found' })).toBeFocused();
});

test('what is put by for a guide leads on to the guide', async ({ page }) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('centipede');
  await expect(page.getByText(/^[1-9] entr(y|ies), nearest first/)).toBeVisible();
  await rows(page).first().click();
  await page.getByRole('button', { name: 'Put in a guide' }).first().click();
  await page.getByRole('link', { name: 'Make the guide' }).press('Enter');
  await expect(page).toHaveURL(/#\/plan\/new$/);
  await expect(page.getByText('1 entry you put by')).toBeVisible();
  await expect(page.getByText('1 entry put by for a guide')).toBeHidden();
});

test('an entry is removed where it is read, and the list has the focus', async ({ page }) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('centipede');
  await expect(page.getByText(/^[1-9] entr(y|ies), nearest first/)).toBeVisible();
  await rows(page).first().click();
  await expect(page).toHaveURL(/entry/);
  await page.getByRole('button', { name: /^Remove this/ }).click();
  await expect(page.getByText(/^Removed an? /)).toBeVisible();
  await expect(page).toHaveURL(/#\/find$/);
  await expect(page.getByRole('listbox', { name: 'Entries found' })).toBeFocused();
  await expect(page.getByText('This entry is no longer in the journal.')).toHaveCount(0);
});

test('the palette unties, and narrows by any one theme', async ({ page }) => {
  await withHarbourLane(page);
  const act = async (words: string, says: string): Promise<void> => {
    await page.keyboard.press('Control+k');
    await page.keyboard.type(words);
    await page.getByRole('option', { name: says, exact: true }).click();
  };
  await page.locator('#find-field').fill('courage');
  await expect(page.getByText(/nearest first/)).toBeVisible();
  await act('only courage', 'Show only Courage');
  await expect(page.getByText(/entries tied to Courage/)).toBeVisible();
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await expect(list).toHaveAttribute('aria-busy', 'false');
  await list.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: 'Untie from Courage' })).toBeAttached();
  await act('untie courage', 'Untie the entry from Courage');
  await expect(page.getByText(/^Untied an? .* from Courage$/)).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByText(/^Taken back: untied an? .* from Courage$/)).toBeVisible();
  await expect(list).toBeFocused();
});

test('the palette finds by what an action says before what it may be looked for by', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.keyboard.press('Control+k');
  await page.keyboard.type('plain letters');
  await page.keyboard.press('Enter');
  await expect(page.locator('html')).toHaveAttribute('data-letters', 'plain');
});

test('altering a heading begins at its name, and Escape leaves it', async ({ page }) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('Hospitality');
  await page
    .getByRole('group', { name: 'Headings, guides and meetings' })
    .getByRole('button', { name: /Hospitality/ })
    .first()
    .click();
  const alter = page.getByRole('button', { name: 'Alter', exact: true });
  await alter.click();
  const name = page.getByLabel('Name', { exact: true });
  await expect(name).toBeFocused();
  await name.fill('Welcome');
  await page.keyboard.press('Escape');
  await expect(name).toHaveValue('Welcome');
  await name.fill('Hospitality');
  await page.keyboard.press('Escape');
  await expect(name).toHaveCount(0);
  await expect(alter).toBeFocused();
});

test('the focus stays at hand when the button pressed goes with what it did', async ({ page }) => {
  await withHarbourLane(page);
  const reading = page.getByRole('region', { name: 'Reading' });
  await page.locator('#find-field').fill('courage');
  await expect(page.getByText(/nearest first/)).toBeVisible();
  await page.getByRole('button', { name: 'Only my words' }).press('Enter');
  const wider = page.locator('.also').getByRole('button', { name: 'Look wider' });
  await expect(wider).toBeFocused();
  await wider.press('Enter');
  await expect(page.getByRole('button', { name: 'Only my words' })).toBeFocused();

  const found = page.getByRole('listbox', { name: 'Entries found' });
  await page.getByRole('group', { name: 'Kind' }).getByRole('button').first().click();
  await page.getByRole('button', { name: 'Clear', exact: true }).press('Enter');
  await expect(found).toBeFocused();
  await expect(found).toHaveAttribute('aria-busy', 'false');

  await reading.getByRole('button', { name: 'Put in a guide' }).press('Enter');
  const out = reading.getByRole('button', { name: 'No longer put by for a guide' });
  await expect(out).toBeFocused();
  await out.press('Enter');
  await expect(reading.getByRole('button', { name: 'Put in a guide' })).toBeFocused();

  // An entry that is opened stays, also where it is found no more without its ties.
  await rows(page).first().click();
  await expect(page).toHaveURL(/#\/find\/entry\//);
  const ties = reading.getByRole('button', { name: /^Untie from / });
  await expect(ties.first()).toBeVisible();
  for (let left = await ties.count(); left > 0; left--) {
    await ties.first().press('Enter');
    await expect(ties).toHaveCount(left - 1);
  }
  await expect(reading.getByRole('button', { name: 'Add a tie' })).toBeFocused();
});

test('proposed ties are decided by keyboard, row after row', async ({ page }) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('Hospitality');
  await page
    .getByRole('group', { name: 'Headings, guides and meetings' })
    .getByRole('button', { name: /Hospitality/ })
    .first()
    .click();
  const proposed = page
    .getByRole('region', { name: 'What probably should be tied' })
    .getByRole('listitem');
  for (const name of ['Not so', 'Tie']) {
    const words = await proposed.first().locator('.text').innerText();
    await proposed.first().getByRole('button', { name, exact: true }).press('Enter');
    await expect(proposed.filter({ hasText: words })).toHaveCount(0);
    await expect(proposed.first().getByRole('button', { name, exact: true })).toBeFocused();
  }
});

test('an entry removed where it is read leaves the marks of others', async ({ page }) => {
  await withHarbourLane(page);
  await rows(page).nth(1).locator('.mark').click();
  await rows(page).nth(2).locator('.mark').click();
  await rows(page).first().click();
  await page.getByRole('button', { name: /^Remove this/ }).click();
  await expect(page.getByText(/^Removed an? /)).toBeVisible();
  await expect(page.getByText('2 entries marked')).toBeVisible();
});

test('an entry is begun from the head of every place', async ({ page }) => {
  await withHarbourLane(page);
  for (const place of ['plan', 'find']) {
    await page.goto(`./#/${place}`);
    await page.getByRole('banner').getByRole('button', { name: 'Write', exact: true }).click();
    await expect(page.getByLabel('What you want to keep')).toBeFocused();
    await page.keyboard.press('Escape');
  }
});

test.describe('on a phone', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test('a theme is chosen from what unfolds, and what is marked keeps its bar in view', async ({
    page,
  }) => {
    await withHarbourLane(page);
    await page.getByRole('button', { name: 'Theme any' }).click();
    const theme = page.getByRole('group', { name: 'Theme' }).getByRole('button').first();
    const { width } = (await theme.boundingBox())!;
    expect(width).toBeGreaterThan(60);
    await theme.click();
    await expect(page.getByText(/^\d+ entries tied to/)).toBeVisible();
    await page.getByRole('button', { name: /^Theme / }).click();
    await rows(page).nth(6).locator('.mark').click();
    const bar = page.getByRole('toolbar', { name: 'With the marked entries' });
    await expect(bar).toBeInViewport({ ratio: 1 });
    await rows(page).nth(20).scrollIntoViewIfNeeded();
    await expect(bar).toBeInViewport({ ratio: 1 });
  });
});

test('what is done with marked entries is chosen by arrows, and nothing is done on the way', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('centipede');
  await expect(page.getByText(/^[1-9] entr(y|ies), nearest first/)).toBeVisible();
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Control+a');
  for (const [width, name] of [
    [1440, 'Change kind'],
    [390, 'Do with the marked entries'],
  ] as const) {
    await page.setViewportSize({ width, height: 844 });
    const menu = page.getByRole('button', { name });
    await menu.press('ArrowDown');
    const question = page.getByRole('menuitem', { name: 'Question', exact: true });
    await expect(page.getByRole('menuitem').first()).toBeFocused();
    for (let step = 0; step < 12; step += 1) {
      if (await question.evaluate((node) => node === document.activeElement)) break;
      await page.keyboard.press('ArrowDown');
    }
    await expect(question).toBeFocused();
    await expect(page.getByText(/^Changed /)).toHaveCount(0);
    await page.keyboard.press('Escape');
    await expect(menu).toBeFocused();
  }
  await page.getByRole('button', { name: 'Do with the marked entries' }).press('Enter');
  await expect(page.getByRole('menuitem').first()).toBeFocused();
  await page.keyboard.press('Q');
  await expect(page.getByRole('menuitem', { name: 'Quote', exact: true })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(page.locator('.said[role=status]')).toContainText(/quotes/i);
});

test('other names of a heading stay whole, and what is altered in its form is not lost', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('Narrative of the Life');
  await page
    .getByRole('group', { name: 'Headings, guides and meetings' })
    .getByRole('button', { name: /Narrative of the Life/ })
    .first()
    .click();
  const alter = page.getByRole('button', { name: 'Alter', exact: true });
  await alter.click();
  const names = page.getByLabel('Other names');
  await expect(names).toHaveValue(/,/);
  const before = await names.inputValue();
  await page.getByRole('textbox', { name: 'Note', exact: true }).fill('Read in the spring.');
  // From a button, as from a field, Escape throws away nothing that is altered.
  await page.getByRole('button', { name: 'Leave as it was' }).press('Escape');
  await expect(page.getByRole('textbox', { name: 'Note', exact: true })).toHaveValue(
    'Read in the spring.',
  );
  await names.fill(`${before}\nSlave, and man`);
  await names.press('Tab');
  await page.getByRole('button', { name: 'Keep', exact: true }).last().click();
  await expect(page.getByText(/^Also .*Slave, and man/)).toBeVisible();
  await alter.click();
  await expect(names).toHaveValue(`${before}\nSlave, and man`);
  // Unaltered, Escape leaves.
  await names.press('Escape');
  await expect(names).toHaveCount(0);
  await expect(page.getByRole('heading', { level: 1, name: /Narrative/ })).toBeVisible();
});
