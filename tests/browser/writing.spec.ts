import { expect, test } from '@playwright/test';
import { rows, withHarbourLane } from './begin';

test('unfinished changes and an unfinished entry are put by side by side', async ({ page }) => {
  await withHarbourLane(page);
  const words = page.getByLabel('What you want to keep');
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await list.focus();
  await page.keyboard.press('e');
  const before = await words.inputValue();
  await words.press('Control+End');
  await page.keyboard.type(' More of it.');
  await page.keyboard.press('Escape');
  await page.keyboard.press('n');
  await expect(words).toHaveValue('');
  await page.keyboard.type('Something else altogether.');
  await page.keyboard.press('Escape');

  await list.focus();
  await page.keyboard.press('e');
  await expect(words).toHaveValue(`${before} More of it.`);
  await page.getByRole('button', { name: 'As it is kept' }).click();
  await expect(words).toHaveValue(before);
  await page.keyboard.press('Escape');

  await page.keyboard.press('n');
  await expect(words).toHaveValue('Something else altogether.');
  await page.keyboard.press('Control+Enter');
  await expect(rows(page).first()).toContainText('Something else altogether.');
});

test('changes put by and what was changed since are both kept', async ({ page }) => {
  await withHarbourLane(page);
  const words = page.getByLabel('What you want to keep');
  const list = page.getByRole('listbox', { name: 'Entries found' });
  const reading = page.getByRole('region', { name: 'Reading' });
  await list.focus();
  await page.keyboard.press('e');
  const before = await words.inputValue();
  await words.press('Control+End');
  await page.keyboard.type(' More of it.');
  await page.keyboard.press('Escape');
  await list.focus();
  await page.keyboard.press('t');
  await page.getByRole('dialog').getByRole('combobox').fill('Phileas Fogg');
  await page
    .getByRole('dialog')
    .getByRole('option', { name: /Phileas Fogg/ })
    .first()
    .click();
  await expect(reading.getByRole('button', { name: 'Untie from Phileas Fogg' })).toBeAttached();
  // A sheet left while it is still opening leaves what was put by alone.
  for (let time = 0; time < 5; time++) {
    await list.focus();
    await page.keyboard.press('e');
    await page.locator('dialog').waitFor();
    await page.keyboard.press('Escape');
    await expect(page.locator('dialog')).toHaveCount(0);
  }
  await list.focus();
  await page.keyboard.press('e');
  await expect(words).toHaveValue(`${before} More of it.`);
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(reading).toContainText('More of it.');
  await expect(reading.getByRole('button', { name: 'Untie from Phileas Fogg' })).toBeAttached();
});

test('an entry is tied to a book once, whatever its tie, and altered and untied', async ({
  page,
}) => {
  await withHarbourLane(page);
  const list = page.getByRole('listbox', { name: 'Entries found' });
  const reading = page.getByRole('region', { name: 'Reading' });
  const untie = reading.getByRole('button', { name: 'Untie from The Secret Garden' });
  const said = page.locator('.said[role=status]');
  await page.locator('#find-field').fill('"Where you tend a rose"');
  // The entry read before is tied to the book as well: the words tell when this one is there.
  await expect(reading).toContainText('A thistle cannot grow');
  await expect(untie).toHaveCount(1);
  const tie = async (): Promise<void> => {
    await list.focus();
    await page.keyboard.press('t');
    await page.getByRole('dialog').getByRole('combobox').fill('The Secret Garden');
    await page.getByRole('dialog').getByRole('option').first().click();
    await expect(page.getByRole('dialog')).toHaveCount(0);
  };
  // It is from that book already: there is nothing to take back.
  await tie();
  await expect(said).toContainText('It is so already');
  await expect(said.getByRole('button', { name: 'Undo' })).toHaveCount(0);
  await list.focus();
  await page.keyboard.press('e');
  const ties = page.getByRole('group', { name: 'Ties' });
  await expect(ties.getByRole('button', { name: 'Untie from The Secret Garden' })).toHaveCount(1);
  await ties.getByRole('button', { name: 'Untie from The Secret Garden' }).click();
  // The button is gone, and the keys of the sheet go on.
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(untie).toHaveCount(0);
});

test('a book left takes its page with it', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  await page.keyboard.type('Two gardens.');
  const field = page.locator('#tie-field');
  const tie = async (name: string): Promise<void> => {
    await field.fill(name);
    await page.getByRole('dialog').getByRole('option', { name }).first().click();
  };
  await tie('The Secret Garden');
  await tie('Frankenstein');
  await page.getByLabel('Page').fill('12');
  const ties = page.getByRole('group', { name: 'Ties' });
  await ties.getByRole('button', { name: 'Untie from The Secret Garden' }).click();
  await expect(page.getByText('in Frankenstein')).toBeVisible();
  await expect(page.getByLabel('Page')).toHaveValue('');
});

test('a tie turned down in the sheet is not proposed for that entry again', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  await page.keyboard.type('Mary Lennox had the courage to look for the garden.');
  const proposed = page.getByRole('list', { name: 'Proposed ties' });
  const not = proposed.getByRole('button', { name: 'Not Mary Lennox' });
  await not.click();
  await expect(not).toHaveCount(0);
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('e');
  await expect(page.getByLabel('What you want to keep')).toHaveValue(/^Mary Lennox had/);
  await page.getByLabel('What you want to keep').press('Control+End');
  await page.keyboard.type(' And how!');
  await expect(proposed.getByRole('button', { name: /^Not / }).first()).toBeVisible();
  await expect(not).toHaveCount(0);
});

test('no letter is lost that is typed as soon as the sheet is there', async ({ page }) => {
  await withHarbourLane(page);
  const focused = page.evaluate(
    () =>
      new Promise<string | undefined>((done) => {
        const watch = new MutationObserver(() => {
          if (!document.querySelector('dialog textarea')) return;
          watch.disconnect();
          setTimeout(() => done(document.activeElement?.tagName));
        });
        watch.observe(document.body, { childList: true, subtree: true });
      }),
  );
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  expect(await focused).toBe('TEXTAREA');
});

// What a service worker hands a page it has claimed passes no route of a test.
test.describe('with no service worker', () => {
  test.use({ serviceWorkers: 'block' });

  test('what is typed before the sheet has come is in it, and no key of the page', async ({
    page,
  }) => {
    let come: () => void = () => {};
    const coming = new Promise<void>((resolve) => (come = resolve));
    await page.route(/\/Writing[^/]*\.js$/, async (route) => {
      await coming;
      await route.continue();
    });
    await withHarbourLane(page);
    await page.getByRole('listbox', { name: 'Entries found' }).focus();
    await page.keyboard.type('nThe gate? /no x');
    await page.keyboard.press('Backspace');
    await expect(page.locator('dialog')).toHaveCount(0);
    come();
    await expect(page.getByRole('dialog').locator('textarea').first()).toHaveValue(
      'The gate? /no ',
    );
    await page.keyboard.type('more');
    await expect(page.getByRole('dialog').locator('textarea').first()).toHaveValue(
      'The gate? /no more',
    );
  });
});

test('the words that tell of a tie are underlined as they stand, until it is turned down', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  await page.getByLabel('What you want to keep').fill('Why is Clerval left behind?');
  const underlined = page.locator('.behind .telling');
  await expect(underlined).toHaveText(['Clerval']);
  await page.getByRole('button', { name: 'Not Henry Clerval' }).click();
  await expect(underlined).toHaveCount(0);
});

test('the marks behind words written from right to left lie behind their words', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  const words = page.getByLabel('What you want to keep');
  await words.fill('*הנמל* בלילה\n\n*The harbour* by night');
  const field = (await words.boundingBox())!;
  const marks = page.locator('.behind .strong');
  await expect(marks).toHaveCount(2);
  const [first, second] = [await marks.nth(0).boundingBox(), await marks.nth(1).boundingBox()];
  expect(field.x + field.width - first!.x - first!.width).toBeLessThan(4);
  // A paragraph written from left to right begins at the left, as in the field.
  expect(second!.x - field.x).toBeLessThan(4);
});

test('everything marked can be untied from all it is tied to, fetched or not', async ({ page }) => {
  await withHarbourLane(page);
  const list = page.getByRole('listbox', { name: 'Entries found' });
  await list.focus();
  await page.keyboard.press('Control+a');
  await page.getByRole('toolbar').getByRole('button', { name: 'Untie from' }).click();
  const held = page.getByRole('menuitem').first();
  await expect
    .poll(async () => Number(/(\d+)$/.exec((await held.textContent())?.trim() ?? '')?.[1]))
    .toBeGreaterThan(60);
});

test('a key is for the entry that is read, also where that was opened from beside the list', async ({
  page,
}) => {
  await withHarbourLane(page);
  const found = page.getByRole('listbox', { name: 'Entries found' });
  await found.focus();
  const reading = page.getByRole('region', { name: 'Reading' });
  await expect(reading.getByRole('heading', { name: 'Near this' })).toBeVisible();
  const near = reading.getByRole('list').last().getByRole('button').first();
  const begins = (await near.locator('span[dir=auto]').first().innerText()).slice(0, 40);
  await near.click();
  await expect(page).toHaveURL(/#\/find\/entry\//);
  await found.focus();
  await page.keyboard.press('e');
  await expect(page.getByLabel('What you want to keep')).toHaveValue(
    new RegExp(`^${begins.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`),
  );
});

test('the sheet goes on by keyboard after what was there is left or a picture is taken out', async ({
  page,
}) => {
  await withHarbourLane(page);
  const list = page.getByRole('listbox', { name: 'Entries found' });
  const words = page.getByLabel('What you want to keep');
  await list.focus();
  await page.keyboard.press('n');
  await page.keyboard.type('Something begun.');
  await expect(words).toHaveValue('Something begun.');
  await page.keyboard.press('Escape');
  await list.focus();
  await page.keyboard.press('n');
  await page.getByRole('button', { name: 'Start afresh' }).press('Enter');
  await expect(words).toHaveValue('');
  await expect(words).toBeFocused();
  await page.getByLabel('Add a picture').setInputFiles({
    name: 'dot.png',
    mimeType: 'image/png',
    buffer: Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    ),
  });
  await page.getByRole('button', { name: 'Take the picture out' }).press('Enter');
  await expect(words).toBeFocused();
  await page.keyboard.press('Alt+3');
  await page.keyboard.type('Why begin again?');
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('region', { name: 'Reading' })).toContainText('Why begin again?');
});

test('a letter typed just before the window is closed is there when it is opened again', async ({
  page,
}) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  await page.keyboard.type('Something begun');
  await expect(page.getByLabel('What you want to keep')).toHaveValue('Something begun');
  // The pause that is waited for is a real one: both happen before it is over.
  const [before, after] = await page.evaluate(() => {
    const words = document.querySelector<HTMLTextAreaElement>('dialog textarea')!;
    const stored = (): boolean => JSON.stringify({ ...localStorage }).includes('in haste');
    words.value += ', in haste';
    words.dispatchEvent(new Event('input', { bubbles: true }));
    const was = stored();
    window.dispatchEvent(new Event('pagehide'));
    return [was, stored()];
  });
  expect([before, after]).toEqual([false, true]);
});

test('a name typed and not chosen is not lost when the entry is kept', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  await page.getByLabel('What you want to keep').fill('On a name half chosen.');
  const tie = page.getByRole('combobox', { name: 'Tie to a book, a theme or a person' });
  await tie.fill('Frankenst');
  const sheet = page.getByRole('dialog', { name: 'Write an entry' });
  await sheet.getByRole('button', { name: /^Keep/ }).first().click();
  await expect(sheet.getByRole('alert')).toContainText('“Frankenst” is not tied yet');
  await expect(tie).toBeFocused();
  await expect(sheet.getByRole('option').first()).toBeVisible();
  await page.keyboard.press('Enter');
  await expect(sheet.getByRole('button', { name: 'Untie from Frankenstein' })).toBeVisible();
  // A key held down empties the field and no more.
  await tie.fill('a');
  await page.keyboard.down('Backspace');
  await page.keyboard.down('Backspace');
  await page.keyboard.up('Backspace');
  await expect(tie).toHaveValue('');
  await expect(sheet.getByRole('button', { name: 'Untie from Frankenstein' })).toBeVisible();
  await page.keyboard.press('Control+Enter');
  await expect(page.getByRole('region', { name: 'Reading' })).toContainText(
    'On a name half chosen.',
  );
  await expect(
    page.getByRole('region', { name: 'Reading' }).getByRole('button', { name: /^Frankenstein/ }),
  ).toBeVisible();
});

test('the key for writing begins on the heading whose page is read', async ({ page }) => {
  await withHarbourLane(page);
  await page.locator('#find-field').fill('The Secret Garden');
  await page.getByRole('button', { name: /The Secret Garden.*entries/ }).click();
  await page.getByRole('button', { name: 'Write on this' }).focus();
  await page.keyboard.press('n');
  const sheet = page.getByRole('dialog', { name: 'Write an entry' });
  await expect(sheet.getByText('in The Secret Garden')).toBeVisible();
});

test('how a lesson is held is read in the pane', async ({ page }) => {
  await withHarbourLane(page);
  await page.getByRole('listbox', { name: 'Entries found' }).focus();
  await page.keyboard.press('n');
  await page.getByLabel('What you want to keep').fill('Ice melts at its own pace.');
  await page.keyboard.press('Alt+4');
  await page.getByLabel('Title').fill('Ice on the sill');
  await page.getByText('An object lesson, or an objective').click();
  const fields: [string, string][] = [
    ['Objective', 'Everyone has guessed and looked.'],
    ['Beforehand', 'Freeze a bowl of water overnight.'],
    ['Steps', 'Guess when it is gone.\nLook every five minutes.'],
  ];
  for (const [label, words] of fields) await page.getByLabel(new RegExp(`^${label}`)).fill(words);
  await page.keyboard.press('Control+Enter');
  const reading = page.getByRole('region', { name: 'Reading' });
  await expect(reading).toContainText('Ice on the sill');
  for (const [label, words] of fields) {
    const row = reading.locator('dl > div', { has: page.locator(`dt:text-is("${label}")`) });
    for (const line of words.split('\n')) await expect(row).toContainText(line);
  }
});
