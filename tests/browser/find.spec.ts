import { expect, test } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

test('the whole way by keyboard: find, read, tie, put by, alter', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('/');
  await expect(page.locator('#find-field')).toBeFocused();
  await page.keyboard.type('river');
  await expect(page.locator('#find-count')).toContainText('of');
  const first = rows(page).first();
  await expect(first).toBeVisible();
  await expect(rows(page).locator('mark').first()).toBeVisible();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/#\/find\/entry\//);
  await page.keyboard.press('g');
  await expect(page.getByText('1 entry put by for a guide')).toBeVisible();
  await page.keyboard.press('t');
  await expect(page.getByRole('dialog').getByRole('combobox')).toBeFocused();
  await page.keyboard.type('Hospit');
  await expect(page.getByRole('dialog').getByRole('option', { name: /Hospitality/ })).toBeVisible();
  await page.keyboard.press('Enter');
  await expect(
    page
      .getByRole('region', { name: 'Reading' })
      .getByRole('button', { name: 'Hospitality', exact: true }),
  ).toBeVisible();
  await page.keyboard.press('e');
  await page.getByLabel('What you want to keep').press('End');
  await page.keyboard.type(' Altered by keyboard.');
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('region', { name: 'Reading' })).toContainText('Altered by keyboard.');
});

test('each facet narrows by what it says it holds', async ({ page }) => {
  await withHarbourLane(page);
  const theme = page.getByRole('group', { name: 'Theme' }).getByRole('button').first();
  const kinds = page.getByRole('group', { name: 'Kind' });
  const quote = kinds.getByRole('button', { name: /^Quote/ });
  const said = Number((await quote.innerText()).replace(/\D/g, ''));
  expect(said).toBeGreaterThan(0);
  const usual = await theme.innerText();
  await quote.click();
  await expect(page.locator('#find-count')).toContainText(`${said} of`);
  await quote.click();
  await expect(page.locator('#find-count')).toContainText(/^(\d+) of \1$/);
  // What narrows the search follows what was found by a frame.
  await expect.poll(() => theme.innerText()).toBe(usual);
  const holds = Number(/(\d+)\D*$/.exec(usual)?.[1]);
  await theme.click();
  await expect(page.locator('#find-count')).toContainText(`${holds} of`);
});

test('a word only begun stays found when the search is narrowed or the journal changes', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.locator('#find-field').pressSequentially('lante');
  const count = page.locator('#find-count');
  await expect(count).toContainText(/^[1-9]\d* of/);
  await expect(rows(page).locator('mark').first()).toHaveText(/lantern/i);
  const quote = page
    .getByRole('group', { name: 'Kind' })
    .getByRole('button', { name: /^(Note|Quote)/ });
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await expect(list).toHaveAttribute('aria-busy', 'false');
  const told = await count.innerText();
  await quote.first().click();
  await expect(quote.first()).toHaveAttribute('aria-pressed', 'true');
  await expect(count).toContainText(/^[1-9]\d* of/);
  await quote.first().click();
  await expect(count).toHaveText(told);
  await list.focus();
  await page.keyboard.press('x');
  await page.getByRole('button', { name: /^Tie/ }).first().click();
  await page.getByRole('dialog').getByRole('combobox').pressSequentially('Frankenst');
  await page
    .getByRole('dialog')
    .getByRole('option', { name: /Frankenstein/ })
    .first()
    .click();
  await expect(page.getByText(/^Tied .* to Frankenstein/)).toBeVisible();
  await expect(list).toHaveAttribute('aria-busy', 'false');
  await expect(count).toHaveText(told);
  await expect(rows(page).locator('mark').first()).toHaveText(/lantern/i);
});

test('a new answer is shown from its first row, however far the one before was scrolled', async ({
  page,
}) => {
  await withHarbourLane(page);
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await rows(page).first().hover();
  await page.mouse.wheel(0, 2500);
  await expect.poll(() => list.evaluate((node) => node.scrollTop)).toBeGreaterThan(2000);
  await list.focus();
  await page.keyboard.press('/');
  await expect(page.locator('#find-field')).toBeFocused();
  await page.keyboard.type('cou');
  await expect(list.locator('mark').first()).toBeVisible();
  await expect.poll(() => list.evaluate((node) => node.scrollTop)).toBe(0);
  await expect(list.locator('[aria-posinset="1"]')).toBeInViewport();
});

test('when nothing is found, each word can be left out', async ({ page }) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('Courage, xyzzyplugh?');
  const leave = page.getByRole('button', { name: /Leave out “xyzzyplugh”/ });
  await expect(leave).toBeVisible();
  const promised = Number((await leave.innerText()).split(':')[1]!.replace(/\D/g, ''));
  await leave.click();
  await expect(page.locator('#find-count')).toContainText(`${promised} of`);
});

test('a heading answers with its own page, and a proposal can be taken or declined', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('Hospitality');
  await page
    .getByRole('group', { name: 'Headings, guides and meetings' })
    .getByRole('button', { name: /Hospitality/ })
    .first()
    .click();
  await expect(page.getByRole('heading', { level: 1, name: 'Hospitality' })).toBeVisible();
  const proposed = page
    .getByRole('region', { name: 'What probably should be tied' })
    .getByRole('listitem');
  const before = await proposed.count();
  expect(before).toBeGreaterThan(1);
  const words = await proposed.first().locator('.text').innerText();
  await proposed.first().getByRole('button', { name: 'Not so' }).click();
  await expect(proposed.filter({ hasText: words })).toHaveCount(0);
  const taken = await proposed.first().locator('.text').innerText();
  await proposed.first().getByRole('button', { name: 'Tie', exact: true }).click();
  await expect(page.getByRole('region', { name: 'Tied to it' })).toContainText(taken.slice(0, 60));
});

test('many entries are tied, untied and changed at once, and it can be undone', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('winter');
  await expect(rows(page).first()).toBeVisible();
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Control+a');
  await expect(page.getByText(/entries marked/)).toBeVisible();
  await page.getByRole('toolbar').getByRole('button', { name: 'Tie to…' }).click();
  await expect(page.getByRole('dialog').getByRole('combobox')).toBeFocused();
  await page.keyboard.type('Grief');
  await expect(page.getByRole('dialog').getByRole('option', { name: /theme Grief/ })).toBeVisible();
  await page.keyboard.press('Enter');
  await expect(page.getByText(/^Tied \d+ entr(y|ies) to/)).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByText(/^Taken back: tied/)).toBeVisible();
});

test('a heading is made on the way, renamed with its old name kept, and merged', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.keyboard.press('Escape');
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Alt+n');
  await page.getByLabel('What you want to keep').fill('Thrift runs through it.');
  await page.getByLabel('Tie to a book, a theme or a person').fill('Thrift');
  await page.getByRole('option', { name: 'New theme: Thrift' }).click();
  await page.keyboard.press('Control+Enter');
  await page
    .getByRole('region', { name: 'Reading' })
    .getByRole('button', { name: 'Thrift', exact: true })
    .click();
  await expect(page.getByRole('heading', { level: 1, name: 'Thrift' })).toBeVisible();
  await page.getByRole('button', { name: 'Alter', exact: true }).click();
  await page.getByLabel('Name', { exact: true }).fill('Sparing');
  await page.getByRole('button', { name: 'Keep', exact: true }).last().click();
  await expect(page.getByRole('heading', { level: 1, name: 'Sparing' })).toBeVisible();
  await expect(page.getByText('Also Thrift')).toBeVisible();
});
