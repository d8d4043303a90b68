// Notebooks cut from the starters: a few cells with all they need, lines of other notebooks among
// them, amounts replaced by others, and damage to the text. The real thing, gone wrong.

import type { CellItem, Item, TableItem } from '../../../engine/notebook/notebook.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { nameKey } from '../../../engine/source/name.ts';
import { Hand } from '../../tools/dice.ts';
import { STARTERS } from '../notebook/sample.ts';

interface Line {
  readonly source: string;
  readonly kind: Item['kind'];
  readonly key: string;
  readonly needs: readonly number[];
}

interface Known {
  readonly header: string;
  readonly lines: readonly Line[];
}

const words = (text: string): string => ` ${nameKey(text).replace(/[^\p{L}\p{N}'-]+/gu, ' ')} `;

/** What each line of a notebook needs of the others, told by the names that stand in it. */
export const known: readonly Known[] = STARTERS.map(([, text]) => {
  const { items, headerSource } = readNotebook(text);
  const named = items.filter(
    (item): item is CellItem | TableItem => item.kind === 'cell' || item.kind === 'table',
  );
  const keys = named.map((item) => ({ at: items.indexOf(item), key: words(item.name.text) }));
  const lines = items.map((item, at) => {
    const text = words(item.source);
    return {
      source: item.source.replace(/\r?\n?$/u, ''),
      kind: item.kind,
      key: item.kind === 'cell' || item.kind === 'table' ? nameKey(item.name.text) : '',
      needs: keys.filter((one) => one.at !== at && text.includes(one.key)).map((one) => one.at),
    };
  });
  return { header: headerSource.replace(/^trials: .*$/mu, 'trials: 3'), lines };
});

export const AMOUNTS = [
  ...['0', '-1', '1e300', '1e-300', '0 W', '-5 W', '1e9 h', '100 %', '-40 °F', '1e5 °C', '10 AWG'],
  ...[
    '2027-06-12',
    '12:00',
    '00:00..00:00',
    '23:30..00:15',
    '"x"',
    'none',
    '?',
    '5..6..9',
    '3 ± 1',
  ],
  ...['-73 dBm', '1/0', 'x', '0 mm²', '90°', '1e400', '0x10', '9'.repeat(400), '1e-400 W', '30 %'],
];
export const PIECES = [
  ...[
    '',
    '(',
    ')',
    '"',
    ' = ',
    '..',
    '±',
    '\u0000',
    'é',
    ' with ',
    '\n',
    '\n  ',
    '|',
    'e',
    '²',
    '^',
  ],
  ...['\u202e', '\u200f', '\u2028', '\ud800', '🙂', '\u0301', '\ufeff', '\r', '\t', '\u00a0', '−'],
  ...[
    ' as kW',
    ' as %',
    ' as AWG',
    ' as °F',
    ' as times',
    ' -- ',
    '[',
    ']',
    '[1..2]',
    ',',
    ':',
    '.',
  ],
  ...['²'.repeat(40), '('.repeat(300), '-'.repeat(300), 'not '.repeat(250), '\u0301'.repeat(99)],
];

export function needed(
  lines: readonly Line[],
  first: readonly number[],
  most: number,
): Set<number> {
  const found = new Set<number>();
  const open = [...first];
  while (open.length > 0 && found.size < most) {
    const at = open.shift() as number;
    if (found.has(at)) continue;
    found.add(at);
    open.push(...(lines[at]?.needs ?? []));
  }
  return found;
}

/** An amount of a line in place of another. */
export function otherAmount(line: string, hand: Hand): string {
  const amounts = [...line.matchAll(/(?<=[=(|,:]\s*|[×/+<>≤≥-] )-?[\d.]+(?: ?[%°A-Za-zΩµ²/]+)?/gu)];
  const one = amounts[hand.whole(amounts.length)];
  if (!one) return line;
  const figure = Number.parseFloat(one[0]);
  const text = hand.chance(0.5)
    ? one[0].replace(/[\d.]+/u, String(hand.pick([0, figure * 10, figure / 7, -figure, 1e6])))
    : hand.pick(AMOUNTS);
  return line.slice(0, one.index) + text + line.slice(one.index + one[0].length);
}

export function damaged(text: string, hand: Hand): string {
  const at = hand.whole(text.length + 1);
  const way = hand.next();
  if (way < 0.2) return text.slice(0, at) + text.slice(at, at + hand.whole(120)) + text.slice(at);
  if (way < 0.35) return text.slice(0, at) + text.slice(at + hand.whole(30));
  return text.slice(0, at) + hand.pick(PIECES) + text.slice(at + hand.whole(4));
}

export function splicedNotebook(seed: number): string {
  const hand = new Hand(seed ^ 0x5bd1e995);
  const { header, lines } = hand.pick(known);
  const from = (count: number): number[] =>
    Array.from({ length: count }, () => hand.whole(lines.length));
  const chosen = needed(lines, from(1 + hand.whole(3)), 25 + hand.whole(20));
  const scenarios = lines.flatMap((line, at) =>
    (line.kind === 'scenario' || line.kind === 'check') && line.needs.some((n) => chosen.has(n))
      ? [at]
      : [],
  );
  for (const at of scenarios) if (hand.chance(0.3)) chosen.add(at);
  let body = lines
    .filter((_, at) => chosen.has(at))
    .map(({ source }) =>
      source.replace(/by: (?:15|5|1) min/u, 'by: 6 h').replace(/^(nights +)= \d+/u, '$1= 1'),
    );
  for (let i = hand.whole(3); i > 0; i--) {
    const other = hand.pick(known).lines;
    body.splice(hand.whole(body.length + 1), 0, other[hand.whole(other.length)]?.source ?? '');
  }
  body = body.map((line) => (hand.chance(0.12) ? otherAmount(line, hand) : line));
  if (hand.chance(0.1)) body = hand.shuffled(body);
  if (hand.chance(0.1)) body.splice(hand.whole(body.length), 1);
  let text = `${header}${body.join(hand.chance(0.05) ? '\r\n' : '\n')}\n`;
  for (let i = hand.chance(0.6) ? hand.whole(4) : 0; i > 0; i--) text = damaged(text, hand);
  return text;
}
