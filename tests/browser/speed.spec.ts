import { expect, test } from '@playwright/test';
import { manyEntries } from '../bench/many-entries';
import { rows } from './begin';

const ENTRIES = 20_000;
/**
 * The figures are for a quiet machine: `BROWSER_SLOW=1` holds them to the letter. A machine that is shared, as those of
 * continuous integration are, is allowed so many times as long; what was measured stands in the report either way.
 */
const SLOW = Number(process.env['BROWSER_SLOW'] ?? 6);

/** A journal file written plainly: its rows as they are. */
function fileOf(entries: number): string {
  const { id, name, made, tables } = manyEntries(entries);
  const rowsOf = Object.fromEntries(
    Object.entries(tables).map(([table, held]) => [table, [...held.values()]]),
  );
  return JSON.stringify({ format: 'bookweft-journal', version: 1, id, name, made, ...rowsOf });
}

test('20,000 entries: first results within a second, a keystroke answered in 50 ms', async ({
  page,
}) => {
  test.setTimeout(240_000);
  await page.goto('./');
  await page.getByRole('button', { name: 'Choose a file…' }).click();
  await page.getByLabel('The file').setInputFiles({
    name: 'many.bookweft.json',
    mimeType: 'application/json',
    buffer: Buffer.from(fileOf(ENTRIES)),
  });
  await page.getByRole('button', { name: 'Merge into this journal' }).click({ timeout: 60_000 });
  await expect(page.locator('footer')).toContainText('20,000 entries', { timeout: 120_000 });
  await expect(page.getByText('Kept on this computer')).toBeVisible({ timeout: 60_000 });

  const opened = await page.context().newPage();
  await opened.addInitScript(() => {
    const window_ = window as unknown as { longest: number };
    window_.longest = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries())
        window_.longest = Math.max(window_.longest, entry.duration);
    }).observe({ type: 'longtask', buffered: true });
  });
  await page.close();
  await opened.goto('./', { waitUntil: 'commit' });
  await rows(opened).first().waitFor();
  const first = await opened.evaluate(() => {
    const [paint] = performance.getEntriesByName('first-contentful-paint');
    return performance.now() - (paint?.startTime ?? 0);
  });
  await expect(opened.locator('footer')).toContainText('20,000 entries', { timeout: 120_000 });
  await opened.waitForTimeout(1500);

  // From the key to the new results on the screen, measured in the page.
  const times = await opened.evaluate(async () => {
    const field = document.getElementById('find-field') as HTMLInputElement;
    const count = document.getElementById('find-count')!;
    const words = [...document.querySelectorAll('[role=option] .text')]
      .flatMap((node) => (node.textContent ?? '').split(/\W+/))
      .filter((word) => word.length > 5)
      .slice(0, 14);
    const out: number[] = [];
    for (const word of words) {
      for (let end = 1; end <= word.length; end++) {
        const began = performance.now();
        const changed = new Promise<void>((done) => {
          const list = document.querySelector('[role=listbox]')!;
          const watch = new MutationObserver(
            () => list.getAttribute('aria-busy') === 'false' && (watch.disconnect(), done()),
          );
          watch.observe(list, { attributes: true, attributeFilter: ['aria-busy'] });
        });
        field.value = word.slice(0, end);
        field.dispatchEvent(new Event('input', { bubbles: true }));
        await changed;
        await new Promise((frame) => requestAnimationFrame(frame));
        out.push(performance.now() - began);
      }
    }
    void count;
    return out;
  });
  const longest = await opened.evaluate(() => (window as unknown as { longest: number }).longest);
  times.sort((a, b) => a - b);
  const p95 = times[Math.floor(times.length * 0.95)]!;
  const told = `first results ${first.toFixed(0)} ms after the window showed; keystroke p50 ${times[times.length >> 1]!.toFixed(0)} ms, p95 ${p95.toFixed(0)} ms of ${times.length}; longest task on the screen's thread ${longest.toFixed(0)} ms`;
  test.info().annotations.push({ type: 'measured', description: told });
  process.stdout.write(`${told}\n`);
  expect(first).toBeLessThan(1000 * SLOW);
  expect(p95).toBeLessThan(50 * SLOW);
});
