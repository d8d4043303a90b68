// Notebooks of a few lines, made up from a number, of several breeds: so small that a million of them
// can be opened. What the large ones (`woven-notebook.ts`, `spliced-notebook.ts`) show of how lines
// work together, these show of every line by itself, with what people, programs and bad lines put in.

import { libraryFunctions } from '../../../engine/library/library.ts';
import { CATALOGUE } from '../../../engine/source/catalogue.ts';
import { Hand } from '../../tools/dice.ts';
import { PLACE } from './evaluated.ts';
import { anyAmount, deepFormula, FUNCTIONS, mutated, noise, ODD_NAMES } from './odd-pieces.ts';
import { damaged, known, needed, otherAmount } from './spliced-notebook.ts';
import { NAMES, Weaver } from './woven-notebook.ts';

const headed = (body: readonly string[], hand: Hand): string => {
  const header = ['dapple 1', `trials: ${hand.pick([3, 5])}`, `seed: ${hand.whole(9)}`];
  if (hand.chance(0.8)) header.push(PLACE);
  return `${header.join('\n')}\n\n${body.join('\n')}\n`;
};

const holds = (text: string, name: string): boolean =>
  new RegExp(`(?<![\\p{L}\\p{N}])${name}(?![\\p{L}\\p{N}])`, 'u').test(text);

/** One to three cells of any functions and forms, with what they draw on and no more. */
function woven(seed: number): string {
  const w = new Weaver(seed ^ 0x1b873593);
  if (w.chance(0.3)) w.wrong = 0.1;
  const names = [...NAMES];
  const body: string[] = [];
  for (let i = 1 + w.whole(3); i > 0; i--) body.push(w.cell(names));
  if (w.chance(0.25))
    body.push(`${w.pick(['check', 'must'])} ${w.write('truth', w.pick(['', 'clock']), 1)}`);
  if (w.chance(0.2)) body.push(`scenario Thin\n  ${w.target(1)}`);
  if (w.chance(0.15)) body.push(w.chart());
  if (w.chance(0.05)) body.push(`answer n = ${w.write('number', '', 1)} ± 1 %`);
  const frame = [...w.frame()].reverse();
  // What a line of the frame draws on is found in a further round.
  for (let round = 0; round < 3; round++)
    for (const [name, line] of frame)
      if (!body.includes(line) && body.some((other) => holds(other, name)) && !w.chance(0.01))
        body.push(line);
  return headed(w.shuffled(body), w);
}

/** A few lines of a starter with some of what they need, changed here and there. */
function cut(seed: number): string {
  const hand = new Hand(seed ^ 0x2c1b3c6d);
  const { header, lines } = hand.pick(known);
  const first = Array.from({ length: 1 + hand.whole(2) }, () => hand.whole(lines.length));
  const chosen = needed(lines, first, 1 + hand.whole(14));
  const body = lines
    .filter((_, at) => chosen.has(at))
    .map(({ source }) => source.replace(/by: (?:15|5|1) min/u, 'by: 6 h'))
    .map((line) => (hand.chance(0.1) ? otherAmount(line, hand) : line));
  const at = hand.whole(body.length);
  for (let i = 1 + hand.whole(2); i > 0; i--) body[at] = mutated(body[at] ?? '', hand);
  return `${header}${body.join('\n')}\n`;
}

/** What every function shows as its example and every message as its cause, as bodies of notebooks. */
const EXAMPLES: readonly (readonly string[])[] = [
  ...[...libraryFunctions.values()].map(({ example }) => [
    ...(example.before ?? []),
    `result = ${example.formula}`,
  ]),
  ...[...CATALOGUE.values()].filter(({ whole }) => !whole).map(({ sample }) => sample.split('\n')),
]
  .map((body) => body.map((line) => line.replace(/by: (?:15|5|1|10) min/u, 'by: 6 h')))
  .filter((body) => body.length <= 15 && body.join('').length < 1500);

function example(seed: number): string {
  const hand = new Hand(seed ^ 0x165667b1);
  const body = [...hand.pick(EXAMPLES)];
  for (let i = 1 + hand.whole(3); i > 0; i--) {
    const at = hand.whole(body.length);
    const line = body[at] ?? '';
    body[at] = hand.chance(0.3) ? otherAmount(line, hand) : mutated(line, hand);
  }
  if (hand.chance(0.1)) body.push(hand.pick(hand.pick(EXAMPLES)));
  return headed(body, hand);
}

/** A table of odd columns and rows, cells that draw on it, and scenarios that change it. */
function table(seed: number): string {
  const hand = new Hand(seed ^ 0x27d4eb2f);
  const names = hand.shuffled(hand.chance(0.5) ? ['x', 'y', 'z', 'u'] : ODD_NAMES);
  const count = 1 + hand.whole(4);
  const name = (at = hand.whole(count)): string => names[at] ?? 'x';
  const formula = (): string =>
    hand.pick([
      `${name()} × 2`,
      `${name()} + ${name()}`,
      `${name()}`,
      `t.${name()}`,
      `sum(t.${name()})`,
      `t.${name()}("a")`,
      `previous(${name()}, first: ${amount()})`,
      `if ${name()} > ${amount()} then ${name()} else ${amount()}`,
      'k × 3',
      '',
      amount(),
    ]);
  const amount = (): string =>
    hand.pick(['1 W', '2 W', '-3 W', '4', '0', '"a"', '06:00', '2027-05-14', anyAmount(hand)]);
  const entry = (): string =>
    hand.pick([
      amount(),
      amount(),
      '',
      'none',
      '?',
      'words',
      `= ${formula()}`,
      '1..2..3 W',
      '5 ± 1',
    ]);
  const firstOf = hand.pick([
    ['a', 'b', 'c'],
    ['1', '2', '3'],
    ['06:00', '12:00', '18:00'],
    ['2027-05-14', '2027-05-15', '2027-05-16'],
    ['10 W', '5 W', '7 W'],
    ['a', 'a', ''],
    [amount(), amount(), amount()],
  ] as const);
  const columns = Array.from({ length: count }, (_, at) =>
    hand.chance(0.3) ? `${name(at)} = ${formula()}` : name(at),
  );
  const rows = Array.from({ length: hand.whole(4) }, (_, at) =>
    [firstOf[at], ...columns.slice(hand.chance(0.1) ? 1 : 0).map(entry)].join(' | '),
  );
  const lines = [['n', ...columns].join(' | '), ...rows].map((line) =>
    hand.chance(0.06) ? mutated(line, hand) : line,
  );
  const place = hand.pick(['"a"', '1', '2.5', '06:30', '2027-05-15', '7 W', firstOf[1]]);
  const target = (): string =>
    hand.pick([`t.${name()}`, `t.${name()}(${place})`, 'k', 't', `t.n`, `t.${name()}("b")`]);
  const value = (): string =>
    hand.pick([amount(), formula(), 'none', `t.${name()} × 2`, '1..2..3', 'steps(1, 3, by: 1)']);
  const body = [
    `t = table${hand.chance(0.1) ? ' -- note' : ''}\n  ${lines.join('\n  ')}`,
    `k = ${amount()}`,
    hand.pick([
      `r = t.${name()}(${place})`,
      `r = ${hand.pick(['sum', 'highest', 'count', 'mean', 'at lowest'])}(t.${name()})`,
      `r = t.${name()} × k`,
      `r = sum(t.${name()}) with ${target()} = ${value()}`,
      `r = first(t.${name()}, where: t.n = ${place})`,
      `r = percentile(t.${name()}(${place}), 50 %)`,
    ]),
  ];
  for (let i = hand.whole(3); i > 0; i--)
    body.push(
      `scenario ${hand.pick(['S', 'plan', '__proto__', 'S', ''])}\n  ${target()} = ${value()}\n  ${hand.pick(['', '| words', `${target()} = ${value()}`])}`,
    );
  if (hand.chance(0.2)) body.push(`check ${hand.pick(['r', 'k', `t.${name()}`])} > ${amount()}`);
  if (hand.chance(0.15))
    body.push(`chart ${hand.pick(['t', `t.${name()}`, 'r against k = 1..3'])}`);
  return headed(hand.chance(0.2) ? hand.shuffled(body) : body, hand);
}

/** Names that trip programs up, wherever the language takes a name. */
function named(seed: number): string {
  const hand = new Hand(seed ^ 0x9e3779b9);
  const name = (): string => hand.pick(ODD_NAMES);
  const [a, b] = [name(), name()];
  const amount = (): string => anyAmount(hand);
  const lines = [
    () =>
      `${name()} = ${hand.pick([a, b])} ${hand.pick(['+', '×', '/', '<', 'as', '..'])} ${name()}`,
    () => `${name()} = ${name()}(${hand.pick([a, amount(), `${name()}: ${a}`])})`,
    () => `${name()} = ${hand.pick(FUNCTIONS)}(${name()}: ${a}, ${amount()})`,
    () => `${name()} = ${a}.${name()}`,
    () => `${name()} = sun position(2027-06-21 12:00).${name()}`,
    () => `${name()} = ${b} with ${a} = ${amount()}`,
    () => `${name()} = (${b} with ${a} = steps(1, 3, by: 1))(${amount()})`,
    () => `${name()} = 5 ${name()}`,
    () => `${name()} = "${name()}"`,
    () => `${name()} = ${a} as ${name()}`,
    () => `${name()} = chance(${a} > ${amount()})`,
    () => `${name()} = ? ["${name()}", "${name()}"]`,
    () => `${name()} = solve(${a}, so that: ${b} ≥ 1, over: 0..9)`,
    () => `answer ${name()} = ${a} ± 1`,
    () => `check ${a} ${hand.pick(['<', '=', 'within 1..'])} ${b}`,
    () => `chart ${a}, ${name()} against ${b} = 1..2 as ${name()}`,
    () => `scenario ${name()}\n  ${a} = ${amount()}\n  ${name()}.${name()} = ${b}`,
    () => `${a} = table\n  ${name()} | ${name()} = ${name()}\n  ${name()} | ${name()}`,
    () => `${name()}: ${name()}`,
    () => `${name()} ${name()} = ${name()} ${name()}`,
  ];
  const body = [
    `${a} = ${hand.pick(['1', '2 W', '1..2..3', amount()])}`,
    `${b} = ${hand.pick([a, '3', `${a} × 2`])}`,
  ];
  for (let i = 1 + hand.whole(4); i > 0; i--) body.push(hand.pick(lines)());
  const text = headed(body, hand);
  return hand.chance(0.1) ? text.replace('\n', `\n${name()}: ${name()}\n`) : text;
}

const HEADERS = [
  ...[
    'dapple 1',
    'dapple 1 ',
    'Dapple 1',
    'dapple 2',
    'dapple 99999999999999999999',
    'dapple -1',
    'dapple',
  ],
  ...['\ufeffdapple 1', 'dapple 1\ntrials: 1e9', 'dapple 1\ntrials: -5', 'dapple 1\ntrials: 0'],
  ...['dapple 1\nseed: 1e400', 'dapple 1\nseed: -1', 'dapple 1\nseed: 0.5', 'dapple 1\nseed:'],
  ...[
    'dapple 1\nplace: 0 °N',
    'dapple 1\nplace: 91 °N, 0 °E, 0 m, UTC',
    'dapple 1\nplace: 1e400 °N, 0 °E',
  ],
  ...[
    'dapple 1\nplace: 90 °N, 180 °W, -500 m, UTC-12',
    'dapple 1\nplace: 5 °S, 10 °E, 1e9 m, UTC+99',
  ],
  ...[
    'dapple 1\nunits: metric, constructor, °F',
    'dapple 1\nunits: W, kW, Wh, J, %',
    'dapple 1\ntitle:\u202e',
  ],
  ...['dapple 1\n__proto__: x', 'dapple 1\ntitle: a\ntitle: b', ' dapple 1', '# dapple 1', ''],
];

/** Depth, length, odd headers and line ends. */
function extreme(seed: number): string {
  const hand = new Hand(seed ^ 0x85ebca6b);
  const lines = [
    () => `a = ${deepFormula(hand)}`,
    () => `check ${deepFormula(hand)}`,
    () => `chart ${deepFormula(hand)}`,
    () => `answer a = ${deepFormula(hand)}`,
    () => `a = ? [${deepFormula(hand)}]`,
    () => `t = table\n  x | y = ${deepFormula(hand)}\n  1 | ${deepFormula(hand)}`,
    () => `scenario S\n  a = ${deepFormula(hand)}`,
    () =>
      `x = ${anyAmount(hand)} ${hand.pick(['+', '-', '×', '/', '^', '<', '..', '±', 'as', 'within'])} ${anyAmount(hand)}`,
    () => `x = ${anyAmount(hand)} as ${anyAmount(hand).replace(/^\S+ /u, '')}`,
    () => `x = ${anyAmount(hand)}..${anyAmount(hand)}..${anyAmount(hand)}`,
    () => `x = ${anyAmount(hand)} [${anyAmount(hand)}..${anyAmount(hand)} by ${anyAmount(hand)}]`,
    () =>
      `x = ${hand.pick(FUNCTIONS)}(${[1, 2, 3]
        .slice(hand.whole(3))
        .map(() => anyAmount(hand))
        .join(', ')})`,
    () =>
      `a = ${hand.pick(['1', 'x', '"q"']).concat(hand.pick([' + 1', ' × a', ', 2', '..']).repeat(hand.pick([5, 90, 900])))}`,
    () => `${'long '.repeat(hand.pick([3, 60, 800]))}name = 1`,
    () => `| ${'*'.repeat(hand.pick([1, 50, 2000]))}`,
    () =>
      `y = timeline(from: ${hand.pick(['2027-05-14', '0001-01-01', '9999-12-31 23:59'])}, until: ${hand.pick(['2027-05-15', '9999-12-31', '2027-05-14 00:01'])}, by: ${anyAmount(hand)})`,
    () => `y = steps(${anyAmount(hand)}, ${anyAmount(hand)}, by: ${anyAmount(hand)})`,
    () => ' \t\u00a0\u2003'.repeat(hand.whole(5)),
    () => noise(hand),
  ];
  const body = Array.from({ length: 1 + hand.whole(4) }, () => hand.pick(lines)());
  const header = hand.chance(0.5) ? 'dapple 1' : hand.pick(HEADERS);
  const end = hand.pick(['\n', '\n', '\r\n', '\r', '\n\r', '\u2028', '\n\n']);
  return [header, '', ...body].join(end) + hand.pick(['', end]);
}

/** No notebook at all, or scarcely. */
function scraps(seed: number): string {
  const hand = new Hand(seed ^ 0xc2b2ae35);
  const text = noise(hand);
  if (hand.chance(0.2)) return text;
  const header = hand.chance(0.8) ? 'dapple 1\n\n' : `${hand.pick(HEADERS)}\n\n`;
  return header + hand.pick(['', 'a = ', 'x = table\n  ', 'check ', 'chart ', 'scenario ']) + text;
}

const MAKERS = { woven, cut, example, table, named, extreme, scraps } as const;
export type Breed = keyof typeof MAKERS;
export const BREEDS = Object.keys(MAKERS) as readonly Breed[];

/** The notebook of this breed and number; some are damaged once more. */
export function smallNotebook(breed: Breed, seed: number): string {
  const text = MAKERS[breed](seed);
  const hand = new Hand(seed ^ 0x7f4a7c15);
  return hand.chance(0.15) ? damaged(text, hand) : text;
}
