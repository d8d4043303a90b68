// From items back to text: joining, since every item keeps its lines as they were.

import type { Notebook } from './notebook.ts';

export function writeNotebook(notebook: Notebook): string {
  return notebook.headerSource + notebook.items.map(({ source }) => source).join('');
}
