import { readFileSync } from 'node:fs';
import { expect, test, type Download, type Page } from '@playwright/test';
import { servedWithoutNetwork, withHarbourLane } from './begin';

/** The file that a click saves, as bytes. */
async function saved(page: Page, name: string): Promise<{ download: Download; bytes: Buffer }> {
  const waiting = page.waitForEvent('download');
  await page.getByRole('button', { name, exact: true }).click();
  const download = await waiting;
  return { download, bytes: readFileSync(await download.path()) };
}

test('a year of the journal is saved as a book from the Keep menu', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByRole('menuitem', { name: /Print or publish/ }).click();
  await page.getByLabel('Which year').selectOption('2024');
  const pdf = await saved(page, 'Save as PDF');
  expect(pdf.download.suggestedFilename()).toBe('2024-book.pdf');
  expect(pdf.bytes.subarray(0, 5).toString()).toBe('%PDF-');
  await expect(page.getByRole('status').filter({ hasText: '46 entries on' })).toBeVisible();
  const calendar = await saved(page, 'Calendar');
  expect(calendar.bytes.toString()).toMatch(/^BEGIN:VCALENDAR\r\n/);
});

test('a guide is made into a series with its reading schedule, and kept as a template to begin from', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/plan/new');
  await page.getByRole('button', { name: 'What a maker owes', exact: true }).click();
  await page.getByRole('button', { name: 'Make a series…' }).click();
  await page.getByLabel('Chapters in it').fill('24');
  await page.getByLabel('How many meetings').fill('3');
  await page.getByLabel('First meeting').fill('2027-01-14');
  await expect(page.getByText('Chapters 17 to 24')).toBeVisible();
  const { bytes } = await saved(page, 'Save the reading schedule');
  expect(bytes.toString()).toContain('DTSTART:20270114T');
  await page.getByRole('button', { name: 'Make a guide for each' }).click();
  await expect(page.getByLabel('Title of the guide')).toHaveValue('Frankenstein, chapters 1 to 8');
  await page.getByRole('button', { name: 'Keep as a template' }).click();
  await page.goto('./#/plan/new');
  const earlier = page.getByRole('region', { name: 'Earlier guides' });
  await expect(earlier.getByRole('button', { name: 'Reading schedule' })).toHaveCount(3);
  await page.getByRole('button', { name: 'Begin a guide from it' }).click();
  await expect(page).toHaveURL(/#\/plan\/guide\//);
});

test('a handout cites in MLA and APA by the processor, without a network too', async ({
  page,
  context,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/plan/new');
  await page.getByRole('button', { name: 'What a maker owes', exact: true }).click();
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  await page.getByLabel('Handout').check();
  const paper = page.frameLocator('iframe').locator('body');
  await expect(paper).not.toContainText('Listen for');
  await servedWithoutNetwork(page);
  await context.setOffline(true);
  await page.getByLabel('Citations').selectOption({ label: 'MLA, 9th edition' });
  await expect(paper).toContainText('Works Cited');
  await expect(paper).toContainText(/Shelley, Mary\. Frankenstein[^.]*\. 1818\./);
  await page.getByLabel('Citations').selectOption({ label: 'APA, 7th edition' });
  await expect(paper).toContainText('References');
  await expect(paper).toContainText(/Shelley, M\. \(1818\)\. Frankenstein/);
  const licences = page.getByRole('link', { name: 'Their licences' });
  await expect(licences).toHaveAttribute('href', 'licences.txt');
  await context.setOffline(false);
});
