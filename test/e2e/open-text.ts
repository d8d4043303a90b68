// Files dropped onto the page, as a hand would drop them, and notebooks written in a test opened so.

import type { Page } from 'playwright-core';

/** A file's content: text, bytes, a number of zero bytes, or text again and again. */
export type Content =
  | string
  | readonly number[]
  | number
  | { readonly text: string; readonly times: number; readonly head: string };

/** Drops a file once the page listens: at `load` its own code may still be on the way. */
export async function dropFile(page: Page, name: string, content: Content): Promise<void> {
  await page.evaluate(() => customElements.whenDefined('dapple-app').then(() => undefined));
  const transfer = await page.evaluateHandle(
    ([file, what]) => {
      const body =
        typeof what === 'string'
          ? what
          : typeof what === 'number'
            ? new Uint8Array(what)
            : 'times' in what
              ? what.head + what.text.repeat(what.times)
              : new Uint8Array(what);
      const data = new DataTransfer();
      data.items.add(new File([body], file));
      return data;
    },
    [name, content] as const,
  );
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}

export async function openText(
  page: Page,
  address: string,
  lines: readonly string[],
): Promise<void> {
  if (page.url() !== `${address}#/`) await page.goto(address);
  await dropFile(page, 'written.dapple', `${lines.join('\n')}\n`);
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
}
