import { expect, test } from '@playwright/test';
import { rows, withEmptyJournal } from './begin';

/**
 * Texts that would act if any screen took them for markup. Ours, after the kinds of attack named in the OWASP
 * Cross Site Scripting Prevention Cheat Sheet and the WHATWG HTML parsing rules.
 */
const HOSTILE = [
  '<script>window.hit = 1</script>',
  '<img src=x onerror="window.hit = 1">',
  '<svg onload="window.hit = 1"></svg>',
  '[a link](javascript:window.hit=1) and [another](data:text/html,<script>window.hit=1</script>)',
  '![pic](javascript:window.hit=1)',
  '<a href="java\tscript:window.hit=1">tab</a>',
  '<iframe srcdoc="<script>parent.hit=1</script>"></iframe>',
  '"><style>*{display:none}</style>',
  '<math><mtext><table><mglyph><style><img src=x onerror=window.hit=1>',
  '\u202Egnirts desrever\u202C and Z\u0351\u036B\u0343\u036A\u0302algo',
  'שלום עולם, then English, then مرحبا',
  '&lt;script&gt;window.hit = 1&lt;/script&gt;',
  '`<b onmouseover=window.hit=1>`',
  '<details open ontoggle=window.hit=1>',
];

test('hostile texts are shown as text in lists, reading pane, tooltips and print', async ({
  page,
}) => {
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  await withEmptyJournal(page);
  for (const text of HOSTILE) {
    await page.keyboard.press('Alt+n');
    await page.getByLabel('What you want to keep').fill(text);
    await page.keyboard.press('Control+Enter');
    await expect(page.getByRole('dialog')).toHaveCount(0);
    await expect(page.getByRole('region', { name: 'Reading' })).toBeVisible();
  }
  await expect(rows(page).first()).toHaveAttribute('aria-setsize', String(HOSTILE.length));
  const bad = await page.evaluate(() => ({
    hit: (window as unknown as { hit?: number }).hit,
    scripts: document.querySelectorAll(
      'main script, main iframe, main img[src="x"], main svg[onload]',
    ).length,
    links: [...document.querySelectorAll('main a')].filter((link) =>
      /^(javascript|data):/i.test((link as HTMLAnchorElement).protocol),
    ).length,
    handlers: [...document.querySelectorAll('main *')].filter((node) =>
      [...node.attributes].some((one) => one.name.startsWith('on')),
    ).length,
  }));
  expect(bad).toEqual({ hit: undefined, scripts: 0, links: 0, handlers: 0 });
  await page.locator('#find-field').fill('script');
  await expect(rows(page).first()).toContainText('<script>');
  await page.goto('./#/plan/new');
  await expect(page.locator('.guide section.empty').first()).toBeVisible();
  await page.getByLabel('Focus', { exact: true }).fill('script');
  await page.getByRole('button', { name: 'Compose', exact: true }).click();
  await page.getByRole('button', { name: 'Put in' }).first().click();
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  const printed = page.frameLocator('iframe');
  await expect(printed.locator('body')).toContainText('window.hit');
  expect(await page.evaluate(() => (window as unknown as { hit?: number }).hit)).toBeUndefined();
  expect(errors).toEqual([]);
});

test('a megabyte in one entry neither stalls the list nor is cut', async ({ page }) => {
  await withEmptyJournal(page);
  const long = `${'A sentence about rivers that goes on. '.repeat(25_000)}THE END`;
  await page.keyboard.press('Alt+n');
  await page.getByLabel('What you want to keep').fill(long);
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('dialog')).toHaveCount(0, { timeout: 20_000 });
  await expect(page.getByRole('region', { name: 'Reading' })).toContainText('THE END', {
    timeout: 20_000,
  });
  await expect(rows(page)).toHaveCount(1);
  await page.keyboard.press('Alt+n');
  await page.getByLabel('What you want to keep').fill(long + long);
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('alert')).toContainText('1,000,000');
  await expect(page.getByLabel('What you want to keep')).toHaveValue(long + long);
});
