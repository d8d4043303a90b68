// Opens a notebook written in a test, dropped onto the first page as a file would be.

import type { Page } from 'playwright-core';

export async function openText(
  page: Page,
  address: string,
  lines: readonly string[],
): Promise<void> {
  await page.goto(address);
  const transfer = await page.evaluateHandle(
    (content) => {
      const data = new DataTransfer();
      data.items.add(new File([content], 'written.dapple', { type: 'text/plain' }));
      return data;
    },
    `${lines.join('\n')}\n`,
  );
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
}
