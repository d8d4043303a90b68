// The starter notebooks that come with the page: their texts, and the line each is offered under.

const FILES = import.meta.glob<string>('../notebooks/*.dapple', {
  query: '?raw',
  import: 'default',
  eager: true,
});

export interface Starter {
  /** The file's name without its ending: `cool-box`. It is also the address. */
  readonly id: string;
  /** `Cool box` */
  readonly name: string;
  readonly title: string;
  /** The first sentence of the notebook's prose. */
  readonly line: string;
  readonly text: string;
}

/** Reading order: each question builds on the one before. */
const ORDER = [
  'harvest',
  'battery',
  'cable',
  'cool-box',
  'quiet-hours',
  'trial',
  'trip',
  'workshop',
];

function starterOf(path: string, text: string): Starter {
  const id = path.replace(/^.*\//, '').replace(/\.dapple$/, '');
  const lines = text.split('\n');
  const title =
    lines
      .find((line) => line.startsWith('title:'))
      ?.slice(6)
      .trim() ?? id;
  const first = lines.findIndex((line) => line.startsWith('|'));
  const prose: string[] = [];
  for (let index = first; index >= 0 && lines[index]?.startsWith('|'); index++) {
    prose.push(lines[index]?.slice(1).trim() ?? '');
  }
  const sentence = prose.join(' ').match(/^.*?[.?!](?=\s|$)/)?.[0] ?? prose.join(' ');
  const words = id.replaceAll('-', ' ');
  return { id, name: words.charAt(0).toUpperCase() + words.slice(1), title, line: sentence, text };
}

function place(id: string): number {
  const index = ORDER.indexOf(id);
  return index < 0 ? ORDER.length : index;
}

export const STARTERS: readonly Starter[] = Object.entries(FILES)
  .map(([path, text]) => starterOf(path, text))
  .sort((a, b) => place(a.id) - place(b.id) || a.id.localeCompare(b.id));
