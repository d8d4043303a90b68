// What small notebooks are made odd with: names that a careless program would trip over, numbers of
// every size in every unit, signs that cannot be seen, and depth.

import { unitRows } from '../../../engine/dimension/unit-table.ts';
import { libraryFunctions } from '../../../engine/library/library.ts';
import type { Hand } from '../../tools/dice.ts';
import { AMOUNTS, PIECES } from './spliced-notebook.ts';

export const FUNCTIONS = [...libraryFunctions.values()].map(({ name }) => name);
export const UNITS = unitRows.flatMap(({ symbol, prefixes }) => [
  symbol,
  ...(prefixes ?? []).map((prefix) => prefix + symbol),
]);

/** Names that every object of the language underneath has, and words that mean something here. */
export const ODD_NAMES = [
  ...[
    '__proto__',
    'constructor',
    'prototype',
    'toString',
    'valueOf',
    'hasOwnProperty',
    'x__proto__',
  ],
  ...[
    '__defineGetter__',
    'isPrototypeOf',
    'length',
    'name',
    'NaN',
    'Infinity',
    'undefined',
    'null',
  ],
  ...[
    'true',
    'false',
    'then',
    'get',
    'set',
    'size',
    'has',
    'values',
    'keys',
    'item',
    'key',
    'kind',
  ],
  ...[
    'start',
    'end',
    'step',
    'text',
    'default',
    'this',
    'eval',
    'of',
    'by',
    'first',
    'where',
    'at',
  ],
  ...['plan', 'table', 'none', 'pi', 'π', 'clock', 'W', 'h', 'min', 'K', 'AWG', 'UTC', 'e', 'e1'],
  ...[
    'größe',
    'Straße',
    'İstanbul',
    'nai\u0308ve',
    '電力',
    'طاقة',
    'כוח 2',
    'K',
    'ﬁ',
    'ⅷ',
    'x²',
    'a-b',
  ],
  ...[
    "day's low",
    'day’s low',
    'a 1',
    'a 01',
    'as',
    'with',
    'check',
    'chart it',
    'scenario x',
    'answer',
  ],
];

const FIGURES = [
  ...[
    '0',
    '-0',
    '1',
    '-1',
    '2.5',
    '1e300',
    '-1e300',
    '1e308',
    '1e-308',
    '5e-324',
    '1e-400',
    '1e400',
  ],
  ...[
    '007',
    '.5',
    '1.',
    '12,5',
    '1 000',
    '0x10',
    '1e',
    '1e+5',
    '٣',
    '３',
    '½',
    '1/0',
    '0/0',
    '1e22',
  ],
  ...[
    '9007199254740993',
    '0.1',
    '1e15',
    '999999.5',
    '123456789.123456789',
    '1_000',
    '9'.repeat(350),
  ],
];

/** An amount in any unit there is, now and then in one there is not. */
export function anyAmount(hand: Hand): string {
  const figure = hand.chance(0.5) ? String(hand.whole(1000)) : hand.pick(FIGURES);
  const place = hand.next();
  if (place < 0.1) return figure;
  if (place < 0.2) return hand.pick(AMOUNTS);
  const unit = hand.pick(UNITS);
  if (place < 0.8) return `${figure} ${unit}`;
  if (place < 0.9)
    return `${figure} ${unit}${hand.pick(['/', '·', '²/', '^-1·'])}${hand.pick(UNITS)}`;
  return `${figure} ${hand.pick([...ODD_NAMES, 'Wq', 'kkW', 'µ', 'm²²', 'W/', '°', '1/K', '/h'])}`;
}

/** Words, figures, spaces and single signs of a line. */
const tokensOf = (line: string): string[] => line.match(/[\p{L}\p{M}_']+|[\d.]+|\s+|./gsu) ?? [];

/** A line with one thing about it changed: a token cut, doubled, swapped or put in. */
export function mutated(line: string, hand: Hand): string {
  const tokens = tokensOf(line);
  const at = hand.whole(tokens.length + 1);
  const other = hand.whole(tokens.length + 1);
  const [here, there] = [tokens[at] ?? '', tokens[other] ?? ''];
  const put = (...now: readonly string[]): string =>
    [...tokens.slice(0, at), ...now, ...tokens.slice(at + 1)].join('');
  switch (hand.whole(12)) {
    case 0:
      return put();
    case 1:
      return put(here, here);
    case 2:
      tokens[other] = here;
      return put(there);
    case 3:
      return put(here, ' ', here);
    case 4:
      return put(hand.pick(PIECES));
    case 5:
      return put(here, hand.pick(PIECES));
    case 6:
    case 7:
      return put(anyAmount(hand));
    case 8:
      return put(hand.pick(ODD_NAMES));
    case 9:
      return put(hand.pick(FUNCTIONS), hand.pick(['', '(', '(a)', '()', '(clock)']));
    case 10:
      return put(here.toUpperCase(), there.toLowerCase());
    default:
      return put(...tokens.slice(at, at + hand.whole(6)), here);
  }
}

/** A formula as deep as the limits and a little deeper, of one way or another to be deep. */
export function deepFormula(hand: Hand): string {
  const most = hand.pick([3, 30, 150, 199, 200, 201, 400]);
  const leaf = hand.pick(['1', 'a', 'x', '1 W', '"t"', '2027-05-14', '', '1 < 2', 'none', '?']);
  const [open, close] = hand.pick([
    ['(', ')'],
    ['-', ''],
    ['- ', ''],
    ['not ', ''],
    ['if 1 < 2 then ', ' else 0'],
    ['if a then b else ', ''],
    ['(', ' with a = 1)'],
    ['', ' with a = 1'],
    ['', ' + 1'],
    ['1 + (', ')'],
    ['', '^2'],
    ['2^', ''],
    ['', '²'],
    ['', '.start'],
    ['', '(1)'],
    ['max(1, ', ')'],
    ['sum(', ')'],
    ['', ' as W'],
    ['', '..1'],
    ['', ' ± 1'],
    ['1 < ', ''],
    ['', ' and a'],
    ['"', '"'],
    ['[', ']'],
    ['a(', ')'],
    ['previous(', ', first: 1)'],
    ['chance(', ' > 1)'],
    ['a: ', ''],
    ['', ','],
    ['(', ''],
    ['', ')'],
  ] as const);
  return open.repeat(most) + leaf + close.repeat(hand.chance(0.9) ? most : most - 1);
}

/** Text of any bytes, or any half of a pair of them, or any scraps of lines. */
export function noise(hand: Hand): string {
  const length = hand.whole(120);
  const way = hand.next();
  const any = (make: () => string): string => Array.from({ length }, make).join('');
  if (way < 0.2) return any(() => String.fromCharCode(hand.whole(256)));
  if (way < 0.35) return any(() => String.fromCharCode(hand.whole(65_536)));
  if (way < 0.5) return any(() => String.fromCharCode(32 + hand.whole(95)));
  const scraps = [
    ...PIECES.slice(0, 40),
    ...['\n', '\n', '\r\n', '\n  ', ' ', ' ', ' = ', 'a', 'x', '1', '2 W', '..', ' as ', 'check '],
    ...['must ', 'chart ', 'answer ', 'scenario ', '# ', '| ', '! ', '-- ', ' = table\n  ', ' | '],
    ...[
      'if ',
      ' then ',
      ' else ',
      ' against ',
      ' as map',
      'steps(1, 3, by: 1)',
      'clock',
      '?',
      ' ± ',
    ],
  ];
  return any(() =>
    hand.chance(0.05)
      ? hand.pick(ODD_NAMES)
      : hand.chance(0.05)
        ? hand.pick(FUNCTIONS)
        : hand.pick(scraps),
  );
}
