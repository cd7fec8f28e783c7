import { expect, test } from '@playwright/test';
import { withHarbourLane } from './begin';

/** Forms of the Read place in which something kept is altered. */

test('a prompt given other words has them, though it is kept at once by Enter in its field', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/read/challenges');
  await page.getByLabel('From words pasted in').press('Space');
  await page.getByLabel('A prompt on each line').fill('Something borrowed');
  await page.getByLabel('From', { exact: true }).fill('2025-01-01');
  await page.getByLabel('To', { exact: true }).fill('2025-12-31');
  await page.getByRole('button', { name: 'Look it over' }).press('Enter');
  await page.getByLabel('Name').fill('A small challenge');
  await page.getByRole('button', { name: 'Keep the challenge' }).press('Enter');
  await page.getByRole('button', { name: 'Alter' }).press('Enter');
  await page.getByLabel('Prompt 1', { exact: true }).fill('A book over 400 pages');
  await page.getByLabel('Prompt 1', { exact: true }).press('Enter');
  const prompt = page.locator('main ol > li').first();
  await expect(prompt).toContainText('A book over 400 pages');
  // Its rule is waited for too.
  await expect(prompt).toContainText('Jane Eyre');
});

test('a list altered in one window keeps what another changed while its form was open', async ({
  page,
  context,
}) => {
  await withHarbourLane(page);
  await page.goto('./#/read/lists');
  await page.getByRole('link', { name: /Tuesday lessons/ }).press('Enter');
  await page.getByRole('button', { name: 'Alter the list' }).press('Enter');
  const other = await context.newPage();
  await other.goto(page.url());
  await other.getByRole('button', { name: 'Alter the list' }).press('Enter');
  await other.getByLabel('Name', { exact: true }).fill('Lessons by the fire');
  await other.getByRole('main').getByRole('button', { name: 'Keep', exact: true }).press('Enter');
  await expect(other.getByRole('heading', { level: 1 })).toContainText('Lessons by the fire');
  await page.getByLabel('Note, printed with it').fill('Bring a cushion');
  await page.getByRole('main').getByRole('button', { name: 'Keep', exact: true }).press('Enter');
  await expect(page.getByText('Bring a cushion')).toBeVisible();
  await expect(page.getByRole('heading', { level: 1 })).toContainText('Lessons by the fire');
});
