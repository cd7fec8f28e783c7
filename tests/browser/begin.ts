import { expect, type Locator, type Page } from '@playwright/test';

/** The entries found, as rows of the list. */
export const rows = (page: Page): Locator =>
  page.getByRole('listbox', { name: 'Entries found' }).getByRole('option');

/** Opens the app on a fresh store with the Harbour Lane journal in it. */
export async function withHarbourLane(page: Page): Promise<void> {
  await page.goto('./');
  await page.getByRole('button', { name: 'Open Harbour Lane' }).click();
  await expect(rows(page).first()).toBeVisible();
  await expect(page.getByText(/^Kept/).first()).toBeAttached();
}

/** Opens the app with an empty journal begun, and the writing sheet put away. */
export async function withEmptyJournal(page: Page, at = './'): Promise<void> {
  await page.goto(at);
  await page.getByRole('button', { name: 'Begin, and write the first entry' }).click();
  // The journal is begun first; a key pressed before the sheet is there closes nothing.
  const sheet = page.getByRole('dialog', { name: 'Write an entry' });
  await sheet.waitFor();
  await page.keyboard.press('Escape');
  await sheet.waitFor({ state: 'hidden' });
}
