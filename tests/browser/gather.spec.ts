import AxeBuilder from '@axe-core/playwright';
import path from 'node:path';
import { expect, test, type Locator, type Page } from '@playwright/test';
import { rows } from './begin';

const SCATTERED = path.resolve(import.meta.dirname, '../../demo-data/scattered');

const pieces = (page: Page): Locator =>
  page.getByRole('feed', { name: 'Pieces to sort' }).getByRole('article');
const inHand = (page: Page): Locator => page.locator('article[aria-current=true]');
/** Numbers of the legend: accepted, seen before, skipped, left. */
async function counts(page: Page): Promise<number[]> {
  const said = await page.getByRole('list', { name: 'Pieces' }).locator('strong').allInnerTexts();
  return said.map((text) => Number(text.replace(',', '')));
}

async function openBench(page: Page): Promise<void> {
  await page.goto('./#/gather');
  await expect(page.getByRole('heading', { name: 'Drop a folder' })).toBeVisible();
}

async function gatherScattered(page: Page): Promise<void> {
  await page.getByLabel('Folder to gather').setInputFiles(SCATTERED);
  await expect(page.getByText(/^\d+ pieces to look at/)).toBeVisible({ timeout: 120_000 });
}

/** What is said of a number of pieces, as that number. */
async function toldOf(said: Locator): Promise<number> {
  return Number(/[\d,]+/.exec(await said.innerText())![0].replace(',', ''));
}

/** Goes on with Tab until something has the focus, as somebody without a mouse does. */
async function tabTo(page: Page, target: Locator, key = 'Tab'): Promise<void> {
  for (let step = 0; step < 120; step++) {
    if (await target.evaluate((node) => node === document.activeElement)) return;
    await page.keyboard.press(key);
  }
  throw new Error('Tab never came there.');
}

/** axe-core with its WCAG 2.2 A and AA rules finds nothing. */
async function clean(page: Page, screen: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze();
  const told = violations.map(
    ({ id, nodes }) =>
      `${screen}: ${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`,
  );
  expect(told).toEqual([]);
}

test('scattered notebooks are gathered, sorted and put away with the keyboard alone', async ({
  page,
}) => {
  test.setTimeout(480_000);
  page.on('filechooser', (chooser) => void chooser.setFiles(SCATTERED));
  await openBench(page);

  // Bring the folder.
  await tabTo(page, page.getByRole('button', { name: 'Choose a folder' }));
  await page.keyboard.press('Enter');
  const brought = page.getByText(/^\d+ pieces to look at/);
  await expect(brought).toBeVisible({ timeout: 120_000 });
  const files = page.getByRole('complementary', { name: 'This gathering' });
  await expect(files).toContainText('If you have another copy, gather that one.');
  await expect(inHand(page)).toBeFocused();
  const told = await toldOf(brought);
  // The bench is looked at once more after the number is told.
  await expect.poll(async () => (await counts(page))[3]).toBe(told);
  const [, seen, , found] = await counts(page);
  expect(found).toBeGreaterThan(150);
  expect(seen).toBeGreaterThan(0);
  const first = await inHand(page).getAttribute('id');

  // Accept, skip and take back; the settled row stays one step in view.
  await page.keyboard.press('a');
  await expect(page.locator(`#${first}`)).toContainText('Accepted');
  await expect.poll(() => counts(page)).toEqual([1, seen, 0, found! - 1]);
  await page.keyboard.press('s');
  await expect.poll(() => counts(page)).toEqual([1, seen, 1, found! - 2]);
  await page.keyboard.press('z');
  await expect.poll(() => counts(page)).toEqual([1, seen, 0, found! - 1]);
  await page.keyboard.press('z');
  await expect.poll(() => counts(page)).toEqual([0, seen, 0, found]);
  await expect(page.locator(`#${first}`)).toBeFocused();

  // A kind set by a figure teaches what begins alike, until that is revoked.
  const labelled = pieces(page).filter({ hasText: /^Question.*Q\. / });
  await expect(labelled.first()).toBeVisible();
  const asked = await labelled.count();
  while (!(await inHand(page).innerText()).includes('Q. ')) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('4');
  await expect(inHand(page)).toContainText('Lesson idea');
  await expect(files).toContainText('Lines that begin Q. are lesson ideas.');
  await tabTo(page, page.getByRole('button', { name: /^Not so: Lines that begin Q/ }), 'Shift+Tab');
  await page.keyboard.press('Enter');
  await expect(files).not.toContainText('Lines that begin Q.');
  await expect(labelled).toHaveCount(asked - 1);

  // A tie to a theme that is not there yet.
  await tabTo(page, inHand(page));
  await page.keyboard.press('t');
  await expect(page.getByLabel('A book, a theme or a person')).toBeFocused();
  await page.keyboard.type('Wishes and what they cost');
  await expect(page.getByRole('option', { name: /^New theme/ })).toBeVisible();
  await page.keyboard.press('Enter');
  await expect(inHand(page).getByRole('list', { name: 'Ties' })).toContainText('Wishes and what');
  await expect(inHand(page)).toBeFocused();

  // Other words; then in two, and one again.
  await page.keyboard.press('e');
  const words = page.getByRole('dialog').locator('textarea');
  await expect(words).toBeFocused();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('The fir-tree wishes. What does it miss?');
  await page.keyboard.press('Control+Enter');
  await expect(inHand(page)).toContainText('The fir-tree wishes. What does it miss?');
  await expect(inHand(page)).toBeFocused();
  await page.keyboard.press('e');
  await expect(words).toBeFocused();
  for (const _ of 'The fir-tree wishes. ') await page.keyboard.press('ArrowRight');
  await tabTo(page, page.getByRole('button', { name: 'Split at the cursor' }));
  await page.keyboard.press('Enter');
  await expect(inHand(page)).toContainText('The fir-tree wishes.');
  await expect(inHand(page)).not.toContainText('What does it miss?');
  await expect(inHand(page)).toBeFocused();
  await page.keyboard.press('e');
  await tabTo(page, page.getByRole('button', { name: 'Join with the next' }));
  await page.keyboard.press('Enter');
  await expect(inHand(page)).toContainText('What does it miss?');

  // The sure ones in one go, twins and all others one by one.
  await tabTo(page, page.getByRole('button', { name: /^Accept the \d+ sure ones/ }), 'Shift+Tab');
  await page.keyboard.press('Enter');
  await expect(page.getByText(/^Accepted \d+ pieces/)).toBeVisible();
  await expect.poll(async () => (await counts(page))[3]).toBeLessThan(found! / 2);
  const [, , , left] = await counts(page);
  await tabTo(page, inHand(page));
  for (let key = 0; key < left!; key++) await page.keyboard.press(key % 5 === 4 ? 's' : 'a');
  await expect(page.getByRole('heading', { name: 'All pieces are sorted' })).toBeVisible({
    timeout: 90_000,
  });
  await expect(
    page.getByRole('button', { name: 'Put this gathering away', exact: true }),
  ).toBeVisible();
  const [accepted, again, skipped] = await counts(page);
  expect(accepted! + again! + skipped!).toBe(found! + seen!);

  // Put away, what was accepted stays.
  await tabTo(page, page.getByRole('button', { name: 'Put this gathering away…' }), 'Shift+Tab');
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByRole('dialog').getByRole('button', { name: 'Put it away' }));
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Drop a folder' })).toBeVisible();
  await expect(page.locator('footer')).toContainText(/[1-9]\d* entries/);
  const entries = /[\d,]+ entries/.exec(await page.locator('footer').innerText())![0];

  // The same folder again adds nothing, and says so; what was skipped is here to be asked about again.
  await tabTo(page, page.getByRole('button', { name: 'Choose a folder' }));
  await page.keyboard.press('Enter');
  await expect(
    page.getByText(/pieces? to look at; \d+ seen before; 2 files could not be read$/),
  ).toBeVisible({ timeout: 120_000 });
  await expect.poll(async () => (await counts(page))[1]).toBeGreaterThan(accepted! * 0.95);
  const [none, , , open] = await counts(page);
  expect(none).toBe(0);
  expect(open).toBeLessThanOrEqual(skipped!);
  await expect(files).toContainText('Gathered before; nothing in it is new.');
  await tabTo(page, page.getByRole('button', { name: 'Put this gathering away…' }), 'Shift+Tab');
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByRole('dialog').getByRole('button', { name: 'Put it away' }));
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Drop a folder' })).toBeVisible();
  await expect(page.locator('footer')).toContainText(entries);

  // One entry is altered, then the gathering is taken back whole but for that one.
  await tabTo(page, page.getByRole('link', { name: 'Find', exact: true }), 'Shift+Tab');
  await page.keyboard.press('Enter');
  await expect(rows(page).first()).toBeVisible();
  await tabTo(page, page.getByRole('listbox', { name: 'Entries found' }));
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/#\/find\/entry\//);
  await page.keyboard.press('e');
  await page.getByLabel('What you want to keep').press('Control+End');
  await page.keyboard.type(' And so say I.');
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('region', { name: 'Reading' })).toContainText('And so say I.');
  await tabTo(page, page.getByRole('link', { name: 'Gather', exact: true }), 'Shift+Tab');
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByRole('button', { name: 'Earlier gatherings…' }));
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByRole('button', { name: 'Take back scattered' }));
  await page.keyboard.press('Enter');
  const stays = page.getByRole('dialog').getByRole('checkbox');
  await expect(stays).toHaveCount(1);
  await expect(stays).toBeChecked();
  await expect(page.getByRole('dialog')).toContainText('And so say I.');
  await tabTo(
    page,
    page.getByRole('dialog').getByRole('button', { name: /^Take back \d+ entries/ }),
  );
  await page.keyboard.press('Enter');
  await expect(page.locator('footer')).toContainText(/(^|\D)1 entry/);
});

test('reading can be stopped and gone on with in another window', async ({ context, page }) => {
  test.setTimeout(360_000);
  await openBench(page);
  const files = Array.from({ length: 260 }, (_, at) => ({
    name: `notebook ${at}.txt`,
    mimeType: 'text/plain',
    buffer: Buffer.from(
      Array.from({ length: 12 }, (_, line) => `Line ${line} of notebook ${at}, and no other.`).join(
        '\n\n',
      ),
    ),
  }));
  await page.getByLabel('Files to gather').setInputFiles(files);
  await page.getByRole('button', { name: 'Stop here' }).click();
  await expect(page.getByText(/files? not read yet/)).toBeVisible({ timeout: 60_000 });
  await page.close();

  const later = await context.newPage();
  await later.goto('./#/gather');
  await later.getByRole('button', { name: 'Go on reading' }).click();
  await expect(later.getByText(/pieces to look at/)).toBeVisible({ timeout: 90_000 });
  await expect(later.getByRole('heading', { level: 1 })).toHaveText('3,120 pieces left to sort');
  await expect(later.getByText('260 files, gathered')).toBeVisible();
});

test('pasted words and dropped folders are gathered like files', async ({ page }) => {
  await openBench(page);
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData('text/plain', 'Why does the sea keep what it takes?\n\nThe lamp is lit at four.');
    document.body.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  });
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('2 pieces left to sort');
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.items.add(new File(['A drawn map is on the first leaf.'], 'green notebook.txt'));
    const at = document.querySelector('.gather')!;
    for (const name of ['dragenter', 'dragover', 'drop'])
      at.dispatchEvent(
        new DragEvent(name, { dataTransfer: data, bubbles: true, cancelable: true }),
      );
  });
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('3 pieces left to sort');
  await expect(page.getByRole('complementary')).toContainText('green notebook.txt');
});

test('a piece that holds more than another may be kept beside it', async ({ page }) => {
  const broken: string[] = [];
  page.on('pageerror', ({ message }) => broken.push(message));
  await openBench(page);
  const quote = 'It is not the lamp that keeps the harbour, but whoever lights it at four.';
  await page.getByLabel('Files to gather').setInputFiles(
    [quote, `${quote} Mother copied this in the winter we had no coal, and it stays for Tom.`].map(
      (text, at) => ({
        name: `notebook ${at}.txt`,
        mimeType: 'text/plain',
        buffer: Buffer.from(text),
      }),
    ),
  );
  await expect(page.getByText(/pieces to look at/)).toBeVisible();
  const holds = pieces(page).filter({ hasText: 'holds more' });
  await expect(holds).toHaveCount(1);
  await holds.click();
  const keys = page.getByRole('list', { name: 'Keys here' });
  await expect(keys).toContainText('keep both');
  await page.keyboard.press('a');
  await page.keyboard.press('a');
  await expect(page.getByRole('heading', { name: 'All pieces are sorted' })).toBeVisible();
  expect((await counts(page))[0]).toBe(2);
  expect(broken).toEqual([]);
});

test('a picture is captioned beside the picture, and what cannot be read says so on a phone', async ({
  page,
}) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openBench(page);
  await page.getByLabel('Files to gather').setInputFiles({
    name: 'blank.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(''),
  });
  await expect(page.getByText('This file is empty.')).toBeVisible();
  await page.getByRole('button', { name: 'Put them away' }).click();
  await page
    .getByLabel('Files to gather')
    .setInputFiles(path.join(SCATTERED, 'garden wall sketch.jpg'));
  await page.getByRole('button', { name: 'Alter' }).click();
  const sheet = page.getByRole('dialog');
  await expect(sheet.getByRole('img')).toBeVisible();
  await expect(sheet.getByLabel('What the picture shows')).toBeFocused();
  await page.keyboard.type('A door in a wall.');
  await sheet.getByRole('button', { name: 'Accept' }).click();
  await expect(page.getByRole('heading', { name: 'All pieces are sorted' })).toBeVisible();
  await expect(page.getByText(/1 piece is in the journal/)).toBeVisible();
});

test('the columns of a table are told anew', async ({ page }) => {
  await openBench(page);
  await page.getByLabel('Files to gather').setInputFiles({
    name: 'lesebuch.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('Werk;Von\nHeidi;Johanna Spyri\nEmma;Jane Austen\n'),
  });
  await expect(page.getByText(/pieces to look at/)).toBeVisible();
  await page.getByRole('button', { name: 'Columns of lesebuch.csv…' }).click();
  await page.getByRole('checkbox', { name: /The first row says/ }).check();
  await page.getByLabel('Werk holds').selectOption('title');
  await page.getByLabel('Von holds').selectOption('author');
  await page.getByRole('button', { name: 'Read the table again' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('2 pieces left to sort');
  await expect(pieces(page).first()).toContainText('by Johanna Spyri');
  await page.keyboard.press('a');
  await expect(pieces(page).first()).toContainText('Accepted');
});

test('words typed to be gathered are there again after the sheet was closed and Gather left', async ({
  page,
}) => {
  await openBench(page);
  const words = page.getByLabel('Notes, quotations, questions; a line or a paragraph each');
  const from = page.getByLabel('Where they are from, if you like');
  await page.getByRole('button', { name: 'Paste words' }).click();
  await words.fill('The lamp is lit at four.');
  await from.fill('Green notebook');
  await page.keyboard.press('Escape');
  await expect(words).toBeHidden();
  await page.evaluate(() => (location.hash = '#/find'));
  await expect(page.getByRole('heading', { name: 'Drop a folder' })).toBeHidden();
  await page.evaluate(() => (location.hash = '#/gather'));
  await page.getByRole('button', { name: 'Paste words' }).click();
  await expect(from).toHaveValue('Green notebook');
  await expect(words).toHaveValue('The lamp is lit at four.');
  await page.getByRole('button', { name: 'Gather these words' }).click();
  await expect(page.getByRole('complementary')).toContainText('Green notebook.txt');
  await page.getByRole('button', { name: 'paste', exact: true }).click();
  await expect(words).toHaveValue('');
});

test('what was altered of a book stays when its sheet is closed', async ({ page }) => {
  await openBench(page);
  await page.getByLabel('Files to gather').setInputFiles({
    name: 'read.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('Title;Author\nHeidi;Johanna Spyri\nEmma;Jane Austen\n'),
  });
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('2 pieces left to sort');
  const title = page.getByLabel('Title', { exact: true });
  const again = async (): Promise<void> => {
    await page.keyboard.press('Escape');
    await expect(title).toBeHidden();
  };
  await page.keyboard.press('e');
  await title.fill('Heidi in the Alps');
  await page.getByLabel('Rating, 0.5 to 5').fill('9');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('alert')).toContainText('A rating is from 0.5 to 5');
  await page.getByLabel('Rating, 0.5 to 5').fill('4.5');
  await again();
  await expect(inHand(page)).toContainText('Heidi in the Alps');
  await expect(inHand(page)).toContainText('4.5 of 5');
  // What cannot stay is told first, and left by closing again.
  await page.keyboard.press('e');
  await title.fill('');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('alert')).toContainText('A book needs a title.');
  await again();
  await expect(inHand(page)).toContainText('Heidi in the Alps');
});

for (const scheme of ['light', 'dark'] as const) {
  test(`the bench stands in nobody’s way, ${scheme}`, async ({ page }) => {
    test.setTimeout(360_000);
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    await openBench(page);
    await clean(page, 'empty');
    await gatherScattered(page);
    await page.keyboard.press('a');
    await expect.poll(async () => (await counts(page))[0]).toBe(1);
    await clean(page, 'sorting');
    await page.keyboard.press('e');
    await expect(page.getByRole('dialog')).toBeVisible();
    await clean(page, 'altering');
    await page.keyboard.press('Escape');
    await page.getByLabel('Show').selectOption('twins');
    await expect(page.getByRole('button', { name: 'Take this wording' }).first()).toBeVisible();
    await clean(page, 'twins');
    await page.getByRole('button', { name: /Columns of books/ }).click();
    await clean(page, 'columns');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Earlier gatherings…' }).click();
    await page.getByRole('button', { name: 'Take back scattered' }).click();
    await clean(page, 'taking back');
    await page.keyboard.press('Escape');
    await page.setViewportSize({ width: 390, height: 844 });
    await expect(page.getByRole('button', { name: 'Keep both' }).last()).toBeVisible();
    await clean(page, 'on a phone');
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    for (const name of ['Keep the earlier', /^(Take|Add) this/, 'Keep both']) {
      const box = await page.getByRole('button', { name }).last().boundingBox();
      expect(box!.height).toBeGreaterThanOrEqual(44);
    }
  });
}
