import { expect, test, type Page } from '@playwright/test';
import { createServer, type Server } from 'node:http';
import { readFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';
import { withEmptyJournal } from './begin';

const APP = join(import.meta.dirname, '..', '..', 'dist', 'app');
const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
};

/** The built app under an address of its own. What is served as `newer` has another service worker, as every newer build has. */
class Served {
  newer = false;
  readonly #server: Server = createServer((asked, answer) => {
    const { pathname } = new URL(asked.url ?? '/', 'http://localhost');
    const path = pathname === '/' ? '/index.html' : pathname;
    readFile(join(APP, path)).then(
      (bytes) => {
        answer.writeHead(200, {
          'content-type': TYPES[extname(path)] ?? 'application/octet-stream',
          'cache-control': 'no-store',
        });
        answer.write(bytes);
        answer.end(this.newer && path === '/sw.js' ? '\n// newer\n' : '');
      },
      () => answer.writeHead(404).end(),
    );
  });

  async open(): Promise<string> {
    await new Promise<void>((open) => this.#server.listen(0, 'localhost', open));
    return `http://localhost:${(this.#server.address() as AddressInfo).port}/`;
  }

  close(): void {
    this.#server.close();
    this.#server.closeAllConnections();
  }
}

/** Marks a window; a window loaded anew has no mark. */
const mark = (page: Page): Promise<void> =>
  page.evaluate(() => void Object.assign(window, { marked: true }));
const marked = (page: Page): Promise<boolean> => page.evaluate(() => 'marked' in window);

test('a newer version is offered, taken where it is asked for, and loads no other window anew', async ({
  context,
}) => {
  const served = new Served();
  try {
    const url = await served.open();
    const one = await context.newPage();
    await withEmptyJournal(one, url);
    await one.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await one.keyboard.press('Alt+n');
    const words = one.getByLabel('What you want to keep');
    await words.fill('Not finished yet.');
    await mark(one);

    served.newer = true;
    const other = await context.newPage();
    await other.goto(url);
    const offered = (page: Page) =>
      page.getByRole('status').filter({ hasText: 'A newer Bookweft is here.' });
    await expect(offered(other)).toBeVisible();
    await mark(other);
    // Offered only: nothing is taken by itself.
    await expect(offered(one)).toBeVisible();
    expect([await marked(one), await marked(other)]).toEqual([true, true]);

    await other.getByRole('button', { name: 'Use it now' }).press('Enter');
    await expect.poll(() => marked(other).catch(() => true)).toBe(false);
    await expect(other.getByRole('navigation').first()).toBeVisible();
    await expect(offered(other)).toHaveCount(0);

    await expect(one.getByText('Another window took the newer Bookweft.')).toBeAttached();
    expect(await marked(one)).toBe(true);
    await expect(words).toHaveValue('Not finished yet.');
    await one.keyboard.press('Escape');
    await one.getByRole('button', { name: 'Load it here too' }).press('Enter');
    await expect.poll(() => marked(one).catch(() => true)).toBe(false);
    // A page that is not there yet hears no key.
    await expect(one.getByRole('navigation').first()).toBeVisible();
    await expect(one.getByText('Another window took the newer Bookweft.')).toHaveCount(0);
    await one.keyboard.press('Alt+n');
    await expect(words).toHaveValue('Not finished yet.');
  } finally {
    served.close();
  }
});
