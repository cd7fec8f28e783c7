import { expect, test, type CDPSession, type Locator, type Page } from '@playwright/test';
import { withHarbourLane } from './begin';

/** A sketch page drawn on with a pen, a finger and a mouse, photographed into, kept, and printed. */

const sheetOf = (page: Page): Locator => page.getByRole('dialog', { name: 'A sketch page' });

async function openPage(page: Page): Promise<{ x: number; y: number }> {
  await page.keyboard.press('Alt+n');
  await page.getByLabel('What you want to keep').fill('The harbour by night');
  await page.getByRole('button', { name: 'Draw a sketch' }).click();
  const box = (await sheetOf(page)
    .getByRole('img', { name: /^The page/ })
    .boundingBox())!;
  return { x: box.x + 60, y: box.y + 60 };
}

/** A level stroke of a pen at one pressure, from 0 to 1. */
async function penStroke(cdp: CDPSession, x: number, y: number, force: number): Promise<void> {
  const pen = { pointerType: 'pen', force, button: 'left', clickCount: 1 } as const;
  await cdp.send('Input.dispatchMouseEvent', { ...pen, type: 'mousePressed', x, y, buttons: 1 });
  for (let step = 1; step <= 12; step += 1)
    await cdp.send('Input.dispatchMouseEvent', {
      ...pen,
      type: 'mouseMoved',
      x: x + step * 10,
      y,
      buttons: 1,
    });
  await cdp.send('Input.dispatchMouseEvent', {
    ...pen,
    type: 'mouseReleased',
    x: x + 120,
    y,
    buttons: 0,
  });
}

const strokes = (page: Page, count: string): Promise<void> =>
  expect(sheetOf(page).getByRole('img', { name: `; ${count}.` })).toBeVisible();
const inkHeight = (page: Page): Promise<number> =>
  page.locator('svg path.ink').evaluate((path) => (path as SVGPathElement).getBBox().height);

test('a pen pressed harder draws a broader line', async ({ page }) => {
  await withHarbourLane(page);
  const { x, y } = await openPage(page);
  const cdp = await page.context().newCDPSession(page);
  await penStroke(cdp, x, y, 0.15);
  await strokes(page, '1 stroke');
  const light = await inkHeight(page);
  await page.keyboard.press('Control+z');
  await strokes(page, '0 strokes');
  await penStroke(cdp, x, y, 0.95);
  await strokes(page, '1 stroke');
  expect(await inkHeight(page)).toBeGreaterThan(1.4 * light);
});

test('the ink lies where the pen was, and the buttons are in sight, on screens of any shape', async ({
  page,
}) => {
  await withHarbourLane(page);
  for (const size of [
    { width: 1440, height: 900 },
    { width: 1024, height: 600 },
    { width: 390, height: 844 },
  ]) {
    await page.setViewportSize(size);
    const { x, y } = await openPage(page);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 80, y + 20, { steps: 4 });
    await page.mouse.up();
    await strokes(page, '1 stroke');
    const ink = (await page.locator('svg path.ink').boundingBox())!;
    expect(Math.abs(ink.x - x), `${size.width}`).toBeLessThan(8);
    expect(Math.abs(ink.x + ink.width - x - 80), `${size.width}`).toBeLessThan(8);
    expect(Math.abs(ink.y - y), `${size.width}`).toBeLessThan(8);
    await expect(page.getByRole('button', { name: 'Put it on the entry' })).toBeInViewport({
      ratio: 1,
    });
    await page.getByRole('button', { name: 'Leave it' }).click();
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
  }
});

test('a drawing is not lost by one touch beside the sheet or one Escape', async ({ page }) => {
  await withHarbourLane(page);
  const { x, y } = await openPage(page);
  const sheet = sheetOf(page);
  const warning = sheet.getByRole('alert');
  const draw = async (down: number): Promise<void> => {
    await page.mouse.move(x, y + down);
    await page.mouse.down();
    await page.mouse.move(x + 80, y + down + 20, { steps: 4 });
    await page.mouse.up();
  };
  await draw(0);
  await strokes(page, '1 stroke');
  await page.mouse.click(4, 4);
  await expect(warning).toHaveText(
    'Put it on the entry, or leave once more to let the drawing go.',
  );
  await expect(warning).toBeInViewport({ ratio: 1 });
  await strokes(page, '1 stroke');
  // Who draws on is asked again.
  await draw(60);
  await strokes(page, '2 strokes');
  await expect(warning).toHaveCount(0);
  await page.keyboard.press('Escape');
  await expect(warning).toBeVisible();
  await strokes(page, '2 strokes');
  await page.keyboard.press('Escape');
  await expect(sheet).toHaveCount(0);
  // The page can be opened again, and is empty.
  await page.getByRole('button', { name: 'Draw a sketch' }).click();
  await strokes(page, '0 strokes');
  await page.keyboard.press('Escape');
  await expect(sheet).toHaveCount(0);
  await expect(page.getByLabel('What you want to keep')).toHaveValue('The harbour by night');
});

test('a finger draws and does not move the page; undo and do again; kept with the entry, and printed', async ({
  page,
}) => {
  // Printing is only noted, on the page and in the frame it prints from.
  await page.addInitScript(() => {
    window.print = () => {
      const image = document.querySelector('img');
      (window.top as unknown as { printed?: string[] }).printed = [image?.src.slice(0, 5) ?? ''];
    };
  });
  await withHarbourLane(page);
  const { x, y } = await openPage(page);
  const cdp = await page.context().newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', at?: [number, number]) =>
    cdp.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: at ? [{ x: at[0], y: at[1] }] : [],
    });
  await touch('touchStart', [x, y]);
  for (let step = 1; step <= 8; step += 1) await touch('touchMove', [x + 5 * step, y + 12 * step]);
  await touch('touchEnd');
  await strokes(page, '1 stroke');
  expect(await inkHeight(page)).toBeGreaterThan(80);
  await page.mouse.move(x + 150, y);
  await page.mouse.down();
  await page.mouse.move(x + 220, y + 40, { steps: 5 });
  await page.mouse.up();
  await strokes(page, '2 strokes');
  const sheet = sheetOf(page);
  await sheet.getByRole('button', { name: 'Take back' }).click();
  await strokes(page, '1 stroke');
  await sheet.getByRole('button', { name: 'Do again' }).click();
  await strokes(page, '2 strokes');
  await sheet.getByRole('button', { name: 'Print the page' }).click();
  await expect
    .poll(() => page.evaluate(() => (window as unknown as { printed?: string[] }).printed))
    .toEqual(['blob:']);
  await sheet.getByLabel('What it shows').fill('Two boats');
  await sheet.getByRole('button', { name: 'Put it on the entry' }).click();
  await expect(sheet).toBeHidden();
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('img', { name: 'Two boats' })).toBeVisible();
  await expect(page.getByText('Kept on this computer')).toBeVisible();
  await page.reload();
  await page.locator('#find-field').fill('harbour by night');
  await expect(page.getByRole('img', { name: 'Two boats' })).toBeVisible();
});

test('a photograph is put on an entry in place of a drawing, and may be drawn on', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.keyboard.press('Alt+n');
  await page.getByLabel('What you want to keep').fill('The notebook of 2011');
  // A grey square, 8 by 8.
  const png = await page.evaluate(async () => {
    const sheet = new OffscreenCanvas(8, 8);
    sheet.getContext('2d')!.fillRect(0, 0, 8, 8);
    const bytes = new Uint8Array(await (await sheet.convertToBlob()).arrayBuffer());
    return [...bytes];
  });
  const camera = page.locator('input[type=file][capture=environment]');
  await camera.setInputFiles({
    name: 'photo.png',
    mimeType: 'image/png',
    buffer: Buffer.from(png),
  });
  await page.getByRole('button', { name: 'Draw on it' }).click();
  const box = (await sheetOf(page)
    .getByRole('img', { name: /^The page/ })
    .boundingBox())!;
  await expect(sheetOf(page).locator('svg image')).toBeAttached();
  await page.mouse.move(box.x + 30, box.y + 30);
  await page.mouse.down();
  await page.mouse.move(box.x + 120, box.y + 60, { steps: 4 });
  await page.mouse.up();
  await sheetOf(page).getByLabel('What it shows').fill('A page, with a mark');
  await sheetOf(page).getByRole('button', { name: 'Put it on the entry' }).click();
  await expect(sheetOf(page)).toBeHidden();
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('img', { name: 'A page, with a mark' })).toBeVisible();
});
