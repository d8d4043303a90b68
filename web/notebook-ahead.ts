// Fetches what a notebook needs: begun by the page's first lines when the address names a notebook,
// and by the first page when it rests, since most who come to it open one next.

type Parts = typeof import('./notebook-parts.ts');

export async function notebookParts(): Promise<Parts> {
  const parts = await import('./notebook-parts.ts');
  if (!customElements.get('dapple-chart')) {
    customElements.define('dapple-chart', parts.DappleChart);
  }
  return parts;
}

/** Begins to fetch them; what goes wrong is told when they are needed. */
export function fetchAhead(): void {
  notebookParts().catch(() => {});
}
