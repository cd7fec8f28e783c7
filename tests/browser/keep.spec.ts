import { chromium, expect, test, type BrowserContext, type Page } from '@playwright/test';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { rows, withEmptyJournal, withHarbourLane } from './begin';
import { clearFolder } from './clear-folder';

/** Writes an entry by keyboard alone and waits until the head says it is kept. */
async function write(page: Page, words: string): Promise<void> {
  await page.keyboard.press('Alt+n');
  await page.getByLabel('What you want to keep').fill(words);
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('dialog')).toHaveCount(0);
}

async function entriesCounted(page: Page): Promise<string> {
  return (await page.locator('footer p').last().innerText()).split(',')[0]!;
}

// A word lost once is lost: nothing here is tried again.
test.describe.configure({ retries: 0 });

test('from the first page to the first own entry, and it is there after a reload', async ({
  page,
}) => {
  await page.goto('./');
  await page.getByLabel('What shall it be called?').fill('Kitchen table');
  await page.getByRole('button', { name: 'Begin, and write the first entry' }).click();
  await page.getByLabel('What you want to keep').fill('What does the river want of Mole?');
  await expect(page.getByRole('radio', { name: 'Question' })).toBeChecked();
  await page.keyboard.press('Control+Enter');
  // The empty journal is kept already; the sheet closes when the entry is.
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(page.getByText('Kept on this computer')).toBeVisible();
  await page.reload();
  await expect(rows(page)).toHaveCount(1);
  await expect(rows(page)).toContainText('What does the river want of Mole?');
});

test('undo and redo reach across places and survive a reload', async ({ page }) => {
  await withEmptyJournal(page);
  await write(page, 'First words.');
  await write(page, 'Second words.');
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Shift+Digit4');
  await expect(page).toHaveURL(/#\/plan/);
  await page.locator('main').click({ position: { x: 4, y: 4 } });
  await page.keyboard.press('Control+z');
  await expect(page.getByText(/^Taken back/)).toBeVisible();
  await page.keyboard.press('Shift+Digit2');
  await expect(page.locator('#find-field')).toBeFocused();
  await expect(rows(page)).toHaveCount(1);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('Control+Shift+Z');
  await expect(rows(page)).toHaveCount(2);
  await page.reload();
  await expect(rows(page)).toHaveCount(2);
});

test('two windows share one journal', async ({ context }) => {
  const first = await context.newPage();
  await withEmptyJournal(first);
  await write(first, 'Written in the first window.');
  const second = await context.newPage();
  await second.goto('./');
  await expect(rows(second)).toHaveCount(1);
  await write(second, 'Written in the second window.');
  await expect(rows(first)).toHaveCount(2);
  await write(first, 'And once more in the first.');
  await expect(rows(second)).toHaveCount(3);
});

test('two windows that write at once each keep their own unfinished entry', async ({ context }) => {
  const words = (page: Page) => page.getByLabel('What you want to keep');
  const first = await context.newPage();
  await withEmptyJournal(first);
  await first.keyboard.press('Alt+n');
  await words(first).fill('Begun in the first window.');
  // Beside the place of the sheet that was closed just before, where that is not free yet.
  await first.waitForFunction(() =>
    Object.keys(localStorage).some((key) => key.startsWith('bookweft.draft')),
  );
  const second = await context.newPage();
  await second.goto('./');
  await second.getByRole('banner').waitFor();
  await second.keyboard.press('Alt+n');
  await expect(words(second)).toHaveValue('');
  await words(second).fill('Begun in the second.');
  await second.keyboard.press('Control+Enter');
  await expect(second.getByRole('dialog')).toHaveCount(0);
  // The first window is gone without a word: what stood in its sheet comes back in the next one.
  await first.close();
  const held = (): Promise<unknown[]> =>
    second.evaluate(async () => (await navigator.locks.query()).held!.map(({ name }) => name));
  await expect.poll(held).toEqual([]);
  await second.keyboard.press('Alt+n');
  await expect(words(second)).toHaveValue('Begun in the first window.');
});

test('after the first load it opens and keeps without a network', async ({ context, page }) => {
  await withEmptyJournal(page);
  await write(page, 'Written with a network.');
  const service = (): Promise<unknown> =>
    page.evaluate(async () => (await navigator.serviceWorker.ready).active?.state);
  await expect.poll(service).toBe('activated');
  await context.setOffline(true);
  await page.reload();
  await expect(rows(page)).toHaveCount(1);
  await write(page, 'Written without one.');
  await page.reload();
  await expect(rows(page)).toHaveCount(2);
});

test('a copy saved here and opened elsewhere is the same journal', async ({ browser, page }) => {
  await withHarbourLane(page);
  await write(page, 'A note of my own, before the copy.');
  const copy = async (from: Page): Promise<string> => {
    const [download] = await Promise.all([
      from.waitForEvent('download'),
      (async () => {
        await from.getByRole('button', { name: 'Keep' }).click();
        await from.getByRole('menuitem', { name: /Save a copy/ }).click();
      })(),
    ]);
    return download.path();
  };
  const saved = await copy(page);
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await other.goto('./');
  await other.getByRole('button', { name: 'Choose a file…' }).click();
  await other.getByLabel('The file').setInputFiles({
    name: 'copy.bookweft.json',
    mimeType: 'application/json',
    buffer: readFileSync(saved),
  });
  await other.getByRole('button', { name: 'Put in place of this journal' }).click();
  await expect(rows(other).first()).toBeVisible();
  const again = await copy(other);
  // Which journals a copy has seen is each journal's own; all else is the same.
  const held = (path: string): unknown => {
    const { copies: _copies, ...rest } = JSON.parse(readFileSync(path, 'utf8')) as Record<
      string,
      unknown
    >;
    return rest;
  };
  expect(held(again)).toEqual(held(saved));
  await elsewhere.close();
});

test('a reader whose last copy is old is reminded once, and not again for a week after “Later”', async ({
  page,
}) => {
  const DAY_MS = 24 * 60 * 60 * 1000;
  const begun = Date.now();
  const daysLater = async (days: number): Promise<void> => {
    await page.clock.setFixedTime(begun + days * DAY_MS);
    await page.reload();
    await expect(rows(page)).toHaveCount(2);
  };
  const reminder = page.getByRole('status').filter({ hasText: 'A copy was last saved on' });
  await withEmptyJournal(page);
  await write(page, 'Before the copy.');
  await page.getByRole('button', { name: 'Keep' }).click();
  await page.getByRole('menuitem', { name: /Save a copy/ }).click();
  await expect(page.getByText(/^A copy is saved as/)).toBeVisible();
  await write(page, 'After the copy.');
  await daysLater(31);
  await expect(reminder).toContainText('1 change made since then is on this computer alone.');
  await reminder.getByRole('button', { name: 'Later' }).click();
  await expect(reminder).toHaveCount(0);
  await daysLater(39);
  await expect(reminder).toBeVisible();
  await reminder.getByRole('button', { name: 'Save a copy' }).click();
  await expect(reminder).toHaveCount(0);
  await expect(page.getByText(/^A copy is saved as/)).toBeVisible();
});

test('copies are written into the folder that was picked, by themselves, and are journals', async ({
  page,
}) => {
  // No test can answer the browser's own question: the folder is one of the browser's own, with the same kind of handle.
  await page.addInitScript(() => {
    Object.assign(window, {
      showDirectoryPicker: async () =>
        (await navigator.storage.getDirectory()).getDirectoryHandle('copies', { create: true }),
    });
  });
  const inFolder = (): Promise<Record<string, string>> =>
    page.evaluate(async () => {
      const folder = await (
        await navigator.storage.getDirectory()
      ).getDirectoryHandle('copies', { create: true });
      const found: Record<string, string> = {};
      for await (const [name, file] of folder as unknown as AsyncIterable<
        [string, FileSystemFileHandle]
      >)
        found[name] = await (await file.getFile()).text();
      return found;
    });
  const texts = async (): Promise<string[][]> =>
    Object.values(await inFolder()).map((file) =>
      (JSON.parse(file || '{"entries":[]}') as { entries: { text: string }[] }).entries
        .map(({ text }) => text)
        .sort(),
    );
  const keepPage = async (): Promise<void> => {
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByRole('menuitem', { name: /History and storage/ }).click();
  };
  await withEmptyJournal(page);
  await write(page, 'Before the folder.');
  await keepPage();
  await page.getByRole('button', { name: 'Choose a folder…' }).press('Enter');
  await expect(
    page.getByText(/Copies are also written by themselves into “copies”,\s+the\s+last/),
  ).toBeVisible();
  const day = await page.evaluate(() => new Date().toISOString().slice(0, 10));
  expect(Object.keys(await inFolder())).toEqual([`my-reading-${day}.bookweft.json`]);
  expect(await texts()).toEqual([['Before the folder.']]);
  await page.keyboard.press('Escape');
  await write(page, 'After the folder.');
  // The folder is known at the next opening, and what was changed is copied once the half hour is over.
  await page.evaluate(
    async (past) => {
      const opening = indexedDB.open('bookweft-beside');
      const base = await new Promise<IDBDatabase>((done) => {
        opening.onsuccess = () => done(opening.result);
      });
      const records = base.transaction('records', 'readwrite').objectStore('records');
      await new Promise<void>((done) => {
        const asked = records.get('copy-folder');
        asked.onsuccess = () => {
          records.put({ ...asked.result, at: past }, 'copy-folder').onsuccess = () => done();
        };
      });
      base.close();
    },
    new Date(Date.now() - 31 * 60 * 1000).toISOString(),
  );
  await page.reload();
  await expect(rows(page)).toHaveCount(2);
  // A file that is being written can be gone while it is read: it is read once more.
  await expect
    .poll(() => texts().catch(() => []), { timeout: 40_000 })
    .toEqual([['After the folder.', 'Before the folder.']]);
  await keepPage();
  await page.getByRole('button', { name: 'Stop that' }).press('Enter');
  await expect(page.getByRole('button', { name: 'Choose a folder…' })).toBeFocused();
  expect(Object.keys(await inFolder())).toHaveLength(1);
});

test('what is said to be kept survives the browser being killed, 30 times', async () => {
  test.setTimeout(600_000);
  const folder = mkdtempSync(join(tmpdir(), 'bookweft-killed-'));
  const { launchOptions, baseURL } = test.info().project.use;
  try {
    for (let round = 0; round < 30; round++) {
      const context: BrowserContext = await chromium.launchPersistentContext(folder, {
        ...launchOptions,
        baseURL,
      });
      const page = await context.newPage();
      if (round === 0) await withEmptyJournal(page);
      else {
        await page.goto('./');
        await expect
          .poll(() => entriesCounted(page))
          .toBe(`${round} ${round === 1 ? 'entry' : 'entries'}`);
      }
      await page.keyboard.press('Alt+n');
      await page.getByLabel('What you want to keep').fill(`Round ${round}, kept and then killed.`);
      await page.keyboard.press('Control+Enter');
      await expect
        .poll(() => entriesCounted(page))
        .toBe(`${round + 1} ${round === 0 ? 'entry' : 'entries'}`);
      const session = await context
        .browser()
        ?.newBrowserCDPSession()
        .catch(() => undefined);
      const killed =
        (await session?.send('SystemInfo.getProcessInfo').catch(() => undefined))?.processInfo ??
        [];
      for (const { id, type } of killed) if (type === 'browser') process.kill(id, 'SIGKILL');
      if (killed.length === 0) {
        const cdp = await context.newCDPSession(page);
        await cdp.send('Browser.crash').catch(() => undefined);
      }
      await context.close().catch(() => undefined);
    }
    const context = await chromium.launchPersistentContext(folder, { ...launchOptions, baseURL });
    const page = await context.newPage();
    await page.goto('./');
    await expect.poll(() => entriesCounted(page)).toBe('30 entries');
    await context.close();
  } finally {
    clearFolder(folder);
  }
});
