import { expect, test, type Page } from '@playwright/test';

async function openBench(page: Page): Promise<void> {
  await page.goto('./#/gather');
  await expect(page.getByRole('heading', { name: 'Drop a folder' })).toBeVisible();
}

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
