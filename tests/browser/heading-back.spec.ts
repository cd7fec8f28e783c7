import { expect, test, type Locator, type Page } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

/** The form of a heading, opened from what answers its name. */
async function altering(page: Page, heading: string): Promise<{ name: Locator; note: Locator }> {
  await page.locator('#find-field').fill(heading);
  await page
    .getByRole('group', { name: 'Headings, guides and meetings' })
    .getByRole('button', { name: heading })
    .first()
    .click();
  await page.getByRole('button', { name: 'Alter', exact: true }).click();
  return {
    name: page.getByLabel('Name', { exact: true }),
    note: page.getByRole('textbox', { name: 'Note', exact: true }),
  };
}

const said = (page: Page): Locator => page.getByText('did not keep is brought back');

test('a heading half altered comes back after another thing was opened, and after the app was', async ({
  page,
}) => {
  await withHarbourLane(page);
  const { name, note } = await altering(page, 'Hospitality');
  const at = page.url();
  await expect(said(page)).toHaveCount(0);
  await name.fill('Welcome');
  await note.fill('Bread and salt.');
  await rows(page).nth(1).click();
  await expect(page).toHaveURL(/#\/find\/entry\//);
  await page.goBack();
  await expect(said(page)).toBeVisible();
  await expect(name).toHaveValue('Welcome');
  // Nobody asked for the form just now: the next key is the page's.
  await expect(name).not.toBeFocused();

  await note.fill('Bread, salt and a chair.');
  await page.reload();
  await expect(note).toHaveValue('Bread, salt and a chair.');
  expect(page.url()).toBe(at);

  // A name typed back to what it was is altered no more; the note still is.
  await name.fill('Hospitality');
  await page.getByRole('link', { name: '← Found' }).click();
  await expect(name).toHaveCount(0);
  await page.goto(at);
  await expect(name).toHaveValue('Hospitality');
  await page.getByRole('button', { name: 'Keep', exact: true }).last().click();
  await expect(page.getByRole('heading', { level: 1, name: 'Hospitality' })).toBeVisible();
  await expect(page.locator('article .note')).toHaveText('Bread, salt and a chair.');
  await page.reload();
  await expect(page.getByRole('button', { name: 'Alter', exact: true })).toBeVisible();
  await expect(note).toHaveCount(0);
});

test('what was put by of a heading is let go when it is left as it was, and another heading has none of it', async ({
  page,
}) => {
  await withHarbourLane(page);
  const { note } = await altering(page, 'Hospitality');
  const at = page.url();
  await note.fill('Half a tho');
  await altering(page, 'Courage').then((form) => expect(form.note).not.toHaveValue('Half a tho'));
  await page.goto(at);
  await expect(note).toHaveValue('Half a tho');
  await page.getByRole('button', { name: 'Let it go' }).click();
  await expect(page.getByRole('button', { name: 'Alter', exact: true })).toBeFocused();
  await page.reload();
  await expect(page.getByRole('heading', { level: 1, name: 'Hospitality' })).toBeVisible();
  await expect(note).toHaveCount(0);
});
