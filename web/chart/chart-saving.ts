// Saving a chart: its values as CSV, its picture as SVG or PNG, named after its title.

import { download, fileName } from '../keep/files.ts';
import { readingToCsv } from './chart-csv.ts';
import { ownLetters, pictureOf, pictureText, pictureToPng } from './chart-picture.ts';
import type { ChartReading } from './chart-reading.ts';
import type { SavedAs } from './chart-words.ts';

export interface SavedChart {
  readonly title: string;
  readonly spoken: string;
  readonly reading: ChartReading;
  /** What is drawn; nothing while the table is shown. */
  readonly frame: Element | null;
}

/** What a spreadsheet needs to know that the letters are UTF-8. */
const UTF8 = '\uFEFF';

/** Hands the file over and says what was saved, or why nothing was. */
export async function saveChart(chart: SavedChart, as: SavedAs): Promise<string> {
  const name = fileName(chart.title, `.${as.toLowerCase()}`);
  if (as === 'CSV') {
    download(name, UTF8 + readingToCsv(chart.reading), 'text/csv;charset=utf-8');
    return `Saved ${name}`;
  }
  if (!chart.frame) return 'Show the picture first, then save it.';
  const picture = pictureOf(chart.frame, chart.title, chart.spoken, await ownLetters());
  if (as === 'SVG') {
    download(name, pictureText(picture), 'image/svg+xml');
    return `Saved ${name}`;
  }
  try {
    const png = await pictureToPng(picture);
    download(name, new Uint8Array(await png.arrayBuffer()), 'image/png');
    return `Saved ${name}`;
  } catch {
    return 'The picture could not be made. Save it as SVG.';
  }
}
