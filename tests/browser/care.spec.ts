import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Page } from '@playwright/test';
import { rows, toNew, withHarbourLane } from './begin';

/** Every screen, in both schemes: axe-core with its WCAG 2.2 A and AA rules finds nothing. */
async function clean(page: Page, screen: string, apart: string[] = []): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .disableRules(apart)
    .analyze();
  const told = violations.map(
    ({ id, nodes }) =>
      `${screen}: ${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`,
  );
  expect(told).toEqual([]);
}

for (const scheme of ['light', 'dark'] as const) {
  test(`nothing stands in anybody’s way, ${scheme}`, async ({ page }) => {
    test.setTimeout(360_000);
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    await page.goto('./');
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await clean(page, 'first page');
    await withHarbourLane(page);
    await page.getByRole('button', { name: 'Put away' }).click();
    await clean(page, 'find');
    await page.locator('#find-field').fill('garden');
    await rows(page).first().click();
    await expect(page.getByRole('region', { name: 'Reading' })).toContainText('Near this');
    await clean(page, 'an entry');
    await page.locator('.tie button').first().click();
    await expect(page.getByRole('button', { name: 'Write on this' })).toBeVisible();
    await clean(page, 'a heading');
    await page.getByRole('button', { name: 'Alter', exact: true }).click();
    await clean(page, 'a heading altered');
    await page.locator('#find-field').fill('xyzzyplugh qwertz');
    await expect(page.getByText('Nothing has')).toBeVisible();
    await clean(page, 'nothing found');
    await page.keyboard.press('Alt+n');
    await page.getByLabel('What you want to keep').fill('What does Mary want of the garden?');
    await page.getByText('Lesson idea').last().click();
    await clean(page, 'writing');
    await page.keyboard.press('Escape');
    await page.getByRole('banner').getByRole('button', { name: 'Keep', exact: true }).click();
    await clean(page, 'keep menu');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+k');
    await clean(page, 'all actions');
    await page.keyboard.press('Escape');
    for (const place of ['gather', 'weave', 'read', 'plan']) {
      await toNew(page, `./#/${place}`);
      await clean(page, place);
    }
    await expect(page.locator('.guide section.empty').first()).toBeVisible();
    await page.locator('#plan-focus').fill('home');
    await page.getByRole('button', { name: 'Compose', exact: true }).click();
    await expect(page.getByRole('button', { name: 'Compose again' })).toBeVisible();
    await page.locator('#item-0-0').click();
    await clean(page, 'a guide');
    await page.getByRole('button', { name: 'Print', exact: true }).click();
    await expect(page.locator('iframe')).toBeVisible();
    // The sheet is a document of its own in a frame, with a head and a foot beside the house's.
    await clean(page, 'printing', ['landmark-unique']);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'It has met…' }).click();
    await clean(page, 'it has met');
    await page.keyboard.press('Escape');
    await page.getByRole('link', { name: 'Run the meeting' }).click();
    await clean(page, 'running');
  });
}

test('at twice the size nothing is lost sideways', async ({ page }) => {
  await page.setViewportSize({ width: 720, height: 450 });
  await withHarbourLane(page);
  const notWider = async (place: string): Promise<void> => {
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wide, place).toBeLessThanOrEqual(0);
  };
  await notWider('find');
  for (const [place, there] of [
    ['plan', page.locator('.guide section.empty')],
    ['gather', page.getByRole('heading', { name: 'Drop a folder' })],
    ['weave', page.getByRole('gridcell')],
    ['read', page.getByRole('grid', { name: /by day$/ })],
  ] as const) {
    await page.goto(`./#/${place}`);
    await expect(there.first()).toBeVisible();
    await notWider(place);
  }
});

test('on a phone the five places stand at the bottom, and an entry opens whole', async ({
  page,
}) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await withHarbourLane(page);
  await rows(page).nth(2).click();
  await expect(page.getByRole('region', { name: 'Reading' })).toBeVisible();
  await expect(page.locator('#find-field')).toBeHidden();
  await page.goBack();
  await expect(page.locator('#find-field')).toBeVisible();
  const bar = page.getByRole('navigation', { name: 'Places' }).last();
  const box = (await bar.boundingBox())!;
  expect(Math.round(box.y + box.height)).toBe(844);
  for (const link of await bar.getByRole('link').all()) {
    expect((await link.boundingBox())!.height).toBeGreaterThanOrEqual(44);
  }
});
