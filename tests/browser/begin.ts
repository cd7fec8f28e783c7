import { expect, type Locator, type Page } from '@playwright/test';

/** The entries found, as rows of the list. */
export const rows = (page: Page): Locator =>
  page.getByRole('listbox', { name: 'Entries found' }).getByRole('option');

/** Opens the app on a fresh store with the Harbour Lane journal in it. */
export async function withHarbourLane(page: Page): Promise<void> {
  await page.goto('./');
  await page.getByRole('button', { name: 'Open Harbour Lane' }).click();
  await expect(rows(page).first()).toBeVisible();
  // What narrows comes a frame after all rows, and the hand is in the field by then.
  await expect(page.locator('[data-facet=theme] .choices button').first()).toBeAttached();
  await expect(page.locator('#find-field')).toBeFocused();
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

/** Goes to another place and waits for the heading it has: that of the place before may still stand there. */
export async function toNew(page: Page, at: string): Promise<void> {
  await page.evaluate(() => {
    for (const one of document.querySelectorAll('main h1')) one.setAttribute('data-before', '');
  });
  await page.goto(at);
  await expect(page.locator('main h1:not([data-before])').first()).toBeAttached();
}

/** Waits until the page is in the hands of its service worker, and opens without a network. */
export async function servedWithoutNetwork(page: Page): Promise<void> {
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}
