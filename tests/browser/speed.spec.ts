import { expect, test } from '@playwright/test';
import { writeFileSync } from 'node:fs';
import { manyEntries } from '../bench/many-entries';
import { PlainChromium, type PlainPage } from './plain-chromium';
import { screenTasks, shownAt } from './screen-tasks';

const ENTRIES = 20_000;
/**
 * The figures are for a quiet machine: `BROWSER_SLOW=1` holds them to the letter. A machine that is shared, as those of
 * continuous integration are, is allowed so many times as long; what was measured stands in the report either way. How much of a task is work the
 * browser tells apart from waiting, so that twice the aim is the most for it anywhere.
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

/** Long tasks of the window's thread, and when the first row was there, both in ms of the page's clock. */
const WATCHING = `
  window.longs = [];
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) window.longs.push([startTime, duration]);
  }).observe({ type: 'longtask', buffered: true });
  (function seek() {
    if (document.querySelector('[role=listbox] [role=option]')) window.firstRow = performance.now();
    else requestAnimationFrame(seek);
  })();
`;

const SHOWN = `performance.getEntriesByName('first-contentful-paint')[0].startTime`;

const button = (name: string): string =>
  `[...document.querySelectorAll('button')].find((one) => one.textContent.trim() === '${name}')`;
const said = (selector: string, text: string): string =>
  `[...document.querySelectorAll('${selector}')].some((one) => one.textContent.includes('${text}'))`;

/** Resolves when what the journal's words mean has been learnt and is stored for the next opening, as after any sitting of a minute. */
const SETTLED = `new Promise((done, fail) => {
  setTimeout(() => fail(new Error('nothing was made ready')), 120_000);
  const opening = indexedDB.open('bookweft-beside');
  opening.onsuccess = () => {
    (function look() {
      const asked = opening.result.transaction('records').objectStore('records').count('readied/weave');
      asked.onsuccess = () => (asked.result > 0 ? done(true) : setTimeout(look, 200));
    })();
  };
})`;

const REST_MS = 6000;
/** One opening alone may fall on a moment in which the browser still puts away what was open before: all are told, and their median is held to the aim. */
const OPENINGS = 5;

/** Opens the app and waits for its first row and then for all of the journal. How long after the window showed the first row was there, in ms. */
async function opened(browser: PlainChromium, url: string): Promise<[PlainPage, number]> {
  const page = await browser.open(url, WATCHING);
  await page.until('window.firstRow');
  await page.until(said('footer', '20,000 entries'));
  return [page, await page.value<number>(`window.firstRow - ${SHOWN}`)];
}

async function takeIn(page: PlainPage, path: string): Promise<void> {
  await page.until(button('Choose a file…'));
  await page.value(`${button('Choose a file…')}.click()`);
  await page.until(`document.querySelector('dialog input[type=file]')`);
  await page.chooseFile('dialog input[type=file]', path);
  await page.until(button('Merge into this journal'));
  await page.value(`${button('Merge into this journal')}.click()`);
  await page.until(said('footer', '20,000 entries'));
  await page.until(said('header', 'Kept on this computer'));
  await page.value('navigator.serviceWorker.ready.then(() => true)');
  await page.value(SETTLED);
  // The browser writes for some seconds after it has said that all is stored; no sitting ends in that moment.
  await page.value(`new Promise((rested) => setTimeout(rested, ${REST_MS}, true))`);
}

/** From each key to the new results on the screen, in ms, measured in the page. */
const TYPING = `(async () => {
  const field = document.getElementById('find-field');
  const words = [...document.querySelectorAll('[role=option] .text')]
    .flatMap((node) => node.textContent.split(/\\W+/))
    .filter((word) => word.length > 5)
    .slice(0, 14);
  const out = [];
  for (const word of words) {
    for (let end = 1; end <= word.length; end++) {
      const began = performance.now();
      const changed = new Promise((done, fail) => {
        setTimeout(() => fail(new Error('no answer to ' + word.slice(0, end))), 20_000);
        const list = document.querySelector('[role=listbox]');
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
      // Nobody types faster than this: 1,200 keys a minute.
      await new Promise((rest) => setTimeout(rest, 50));
    }
  }
  return out;
})()`;

test('20,000 entries: first results within a second, a keystroke answered in 50 ms', async ({
  baseURL,
  launchOptions,
}) => {
  test.setTimeout(300_000);
  const browser = new PlainChromium(launchOptions.executablePath!, launchOptions.args!);
  try {
    const file = test.info().outputPath('many.bookweft.json');
    writeFileSync(file, fileOf(ENTRIES));
    const filled = await browser.open(baseURL!);
    await takeIn(filled, file);
    await filled.close();

    const firsts: number[] = [];
    while (firsts.length < OPENINGS - 1) {
      const [one, first] = await opened(browser, baseURL!);
      firsts.push(first);
      await one.close();
    }
    const [page, last] = await opened(browser, baseURL!);
    firsts.push(last);
    const first = firsts.toSorted((a, b) => a - b)[OPENINGS >> 1]!;
    const times = (await page.value<number[]>(TYPING)).sort((a, b) => a - b);
    const paint = await page.value<number>(SHOWN);
    const longs = await page.value<[number, number][]>('window.longs');
    await page.close();

    // Once more, traced: tracing itself takes time, so that the figures above are without it.
    const events = await browser.traced(async () => {
      const [again] = await opened(browser, baseURL!);
      await again.value(TYPING);
    });
    const shown = shownAt(events);
    const work = Math.max(
      ...screenTasks(events, shown.pid).flatMap(({ at, work }) => (at > shown.at ? [work] : [])),
    );
    const longest = Math.max(0, ...longs.filter(([at]) => at > paint).map(([, long]) => long));
    const [p50, p95] = [times[times.length >> 1]!, times[Math.floor(times.length * 0.95)]!];
    const told = `first results ${first.toFixed(0)} ms after the window showed (median of ${OPENINGS} openings: ${firsts.map(Math.round).join(', ')}); keystroke p50 ${p50.toFixed(0)} ms, p95 ${p95.toFixed(0)} ms of ${times.length}; longest task on the window's thread after it showed ${longest.toFixed(0)} ms by the clock, ${work.toFixed(0)} ms of work`;
    test.info().annotations.push({ type: 'measured', description: told });
    process.stdout.write(`${told}\n`);
    expect(times.length).toBeGreaterThan(50);
    expect(first).toBeLessThan(1000 * SLOW);
    expect(p95).toBeLessThan(50 * SLOW);
    expect(work).toBeLessThan(50 * Math.min(2, SLOW));
    expect(longest).toBeLessThan(50 * SLOW);
  } finally {
    await browser.close();
  }
});
