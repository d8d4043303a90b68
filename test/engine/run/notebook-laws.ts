// What must hold of any text whatever, read as a notebook. Each law takes a text and says how it is
// broken; what a law does not fit it lets pass. Two ways to the same values are held against each
// other, so that no value of ours is its own measure.

import { isPointUnit, isUnit } from '../../../engine/dimension/unit.ts';
import {
  type Command,
  formulaInUnit,
  openSession,
  type Session,
  tidyNotebook,
} from '../../../engine/index.ts';
import { parseFormula } from '../../../engine/language/parser.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { nameKey } from '../../../engine/source/name.ts';
import { ColumnTrials } from '../../../engine/study/trials.ts';
import type { Hand } from '../../tools/dice.ts';
import { asked, type Law, opened } from './shown-law.ts';
import { bytes, printed } from './text-laws.ts';

// ── what is compared ────────────────────────────────────────────────────────────────────────────

type Cells = ReturnType<Session['report']>['cells'];

/** Values of all columns as the command line prints them, messages without their columns. */
function told(session: Session, places = true): string {
  const columns = session.evaluation.columns.map((_, index) => {
    const { cells, checks, messages } = session.report(index, true);
    const said = messages.map(({ code, line }) => (places ? `${line} ${code}` : code));
    // A message may quote the formula as it is written.
    const plain = Object.entries(cells).map(([name, { error, waits, ...cell }]) =>
      error === undefined && waits === undefined ? [name, cell] : [name, waits ?? 'none'],
    );
    return { cells: plain, checks: checks.map(({ holds, margin }) => ({ holds, margin })), said };
  });
  return JSON.stringify(columns);
}

/** Value and unit of each cell by its key, and whether there is one. */
function valuesOf(cells: Cells): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(cells).map(([name, { value, unit, kind, error, waits }]) => [
      nameKey(name),
      error !== undefined || waits !== undefined ? 'none' : JSON.stringify([kind, value, unit]),
    ]),
  );
}

/**
 * The amounts of each cell and column of a table by its key, in SI: two notebooks may show one amount
 * in two units, since a cell's unit goes by its formula and by what it comes to in the plan. Texts and
 * what holds them are as they are shown, for their numbers go by the order in which they stand.
 */
function amountsOf(session: Session, column: number): ReadonlyMap<string, string> {
  const { cells } = session.report(column, true);
  const shown = new Map(Object.entries(cells).map(([name, cell]) => [nameKey(name), cell.value]));
  const { program, columns } = session.evaluation;
  const memory = columns[column]?.memory;
  if (!memory) return new Map();
  return new Map(
    program.nodes.flatMap(({ id, kind, key, name, type }) => {
      if (kind !== 'cell' && kind !== 'column') return [];
      const place = kind === 'cell' ? key : nameKey(name);
      if (!type || memory.faults[id]) return [[place, 'none']];
      if (type.kind === 'text' || type.kind === 'record')
        return [[place, JSON.stringify(kind === 'cell' ? shown.get(key) : type.kind)]];
      const numbers = (program.operands[id] ?? []).map((o) =>
        o >= 0 ? [memory.scalars[o]] : [...memory.array(o)],
      );
      return [[place, `${type.kind} ${numbers.map((row) => row.join()).join(';')}`]];
    }),
  );
}

/** Cells that differ, by name. */
function differing(
  before: ReadonlyMap<string, string>,
  after: ReadonlyMap<string, string>,
  but: readonly string[] = [],
): readonly string[] {
  const left = new Set(but.map(nameKey));
  return [...before].flatMap(([name, value]) => {
    const now = after.get(name);
    if (now === value || left.has(name)) return [];
    return [`${name}: ${value.slice(0, 200)} became ${(now ?? 'nothing').slice(0, 200)}`];
  });
}

function firstDifference(a: string, b: string): string {
  let at = 0;
  while (at < a.length && a[at] === b[at]) at++;
  const from = Math.max(0, at - 120);
  return `${a.slice(from, at + 80)} ≠ ${b.slice(from, at + 80)}`;
}

const same = (a: string, b: string, what: string): readonly string[] =>
  a === b ? [] : [`${what}: ${firstDifference(a, b)}`];

// ── a text by itself ────────────────────────────────────────────────────────────────────────────

export const twice: Law = (text) =>
  same(told(openSession(text)), told(openSession(text)), 'a second time gives');

export const tidied: Law = (text) => {
  const after = tidyNotebook(text);
  const again = tidyNotebook(after);
  return [
    ...same(after, again, 'tidied twice'),
    // A formula that began on the line below its name is drawn up to it.
    ...(after === text
      ? []
      : same(told(openSession(text), false), told(openSession(after), false), 'tidied')),
  ];
};

/** Put-off work done elsewhere and taken over is what it is when done here. */
export const takenOver: Law = (text) => {
  const there = openSession(text);
  if (there.snapshot().pending === 0) return [];
  while (there.continue(1e9, () => 0));
  const here = openSession(text);
  here.adopt(there.slowResults());
  return same(told(there), told(here), 'taken over');
};

/** Any parts of the trials give the bits of all at once. */
export const split: Law = (text, hand) => {
  const { evaluation } = openSession(text);
  if (!evaluation.program.nodes.some((node) => node.distribution)) return [];
  const index = hand.whole(evaluation.columns.length);
  const trials = 7;
  const whole = new ColumnTrials(evaluation, index, [], trials);
  while (whole.step(trials));
  const parts = new ColumnTrials(openSession(text).evaluation, index, [], trials);
  while (parts.step(1 + hand.whole(3)));
  const plain = (value: unknown): string =>
    JSON.stringify(value, (_, inner: unknown) =>
      inner instanceof Map
        ? [...inner].map(([k, v]) => [k, [...(v as Iterable<unknown>)].map(String)])
        : inner,
    );
  return same(plain(whole.result()), plain(parts.result()), 'split');
};

// ── a text and another that means the same ──────────────────────────────────────────────────────

/** Whether every cell and table has a name of its own and every line is read. */
function isWhole(text: string): boolean {
  const { items, diagnostics } = readNotebook(text);
  const names = items.flatMap((item) =>
    item.kind === 'cell' || item.kind === 'table' ? [nameKey(item.name.text)] : [],
  );
  return diagnostics.length === 0 && new Set(names).size === names.length;
}

/** Cells and tables in another order give the same values. */
export const reordered: Law = (text, hand) => {
  if (!isWhole(text)) return [];
  const { items, headerSource } = readNotebook(text);
  const sources = (list: typeof items): string[] =>
    list.map(({ source }) => (source.endsWith('\n') ? source : `${source}\n`));
  const isCell = ({ kind }: (typeof items)[number]): boolean => kind === 'cell' || kind === 'table';
  const cells = hand.shuffled(sources(items.filter(isCell)));
  const rest = sources(items.filter((item) => !isCell(item)));
  const body = hand.chance(0.5) ? [...cells, ...rest] : [...rest, ...cells];
  const [before, after] = [openSession(text), openSession(headerSource + body.join(''))];
  return before.evaluation.columns.flatMap((_, index) =>
    differing(
      valuesOf(before.report(index, true).cells),
      valuesOf(after.report(index, true).cells),
    ).map((one) => `in another order, column ${index}: ${one}`),
  );
};

/** The stored values of all cells of the plan, by key, in SI. */
function stored(session: Session): ReadonlyMap<string, string> {
  session.report(0, false);
  const { program, plan } = session.evaluation;
  return new Map(
    program.nodes
      .filter(({ kind, type }) => kind === 'cell' && type?.kind === 'quantity')
      .map(({ id, key }) => [
        key,
        plan.faults[id]
          ? 'none'
          : (program.operands[id] ?? [])
              .map((o) => (o >= 0 ? [plan.scalars[o]] : [...plan.array(o)]).join())
              .join(';'),
      ]),
  );
}

/** A given shown in another unit is the same amount, to itself and to all that draw on it. */
export const inAnotherUnit: Law = (text, hand) => {
  const session = openSession(text);
  const givens = session.snapshot().rows.filter((row) => row.kind === 'cell');
  if (givens.length === 0) return [];
  const { key, formula, role, shape } = hand.pick(givens);
  // The page offers no unit where the formula is more than an amount.
  if (role !== 'derived' && (role !== 'given' || shape !== 'scalar')) return [];
  const choices = session.unitChoices(key);
  if (choices.length === 0) return [];
  const unit = hand.pick(choices);
  const before = stored(session);
  if (before.get(key) === 'none') return [];
  const words = formulaInUnit(formula, unit);
  if (!session.do({ do: 'formula', cell: key, text: words })) return [];
  // Parentheses round a formula as deep as one may be.
  if (session.snapshot().messages.some(({ code }) => code === 'formula-deep')) return [];
  return differing(before, stored(session)).map(
    (one) => `${role} ${key} = ${words}, was ${formula}: ${one}`,
  );
};

/** What a cell may be replaced by, as a person would write it. */
function replacement(session: Session, key: string, hand: Hand): string | undefined {
  const { program } = session.evaluation;
  const id = session.evaluation.checked.scope.cells.get(key) ?? -1;
  const type = program.nodes[id]?.type;
  if (!type || type.axes.length > 0 || type.optional) return undefined;
  const cell = Object.entries(session.report(0, false).cells).find(
    ([name]) => nameKey(name) === key,
  );
  if (type.kind === 'time of day') return hand.pick(['06:30', '23:59']);
  if (type.kind === 'truth') return hand.pick(['1 < 2', '2 < 1']);
  if (type.kind === 'text') return hand.pick(['"lamp"', '"other"']);
  if (type.kind !== 'quantity') return undefined;
  if (type.stance === 'moment') return hand.pick(['2027-05-14 13:00', '2027-05-15', '2027-05-17']);
  const { unit } = cell?.[1] ?? { unit: '' };
  // Gauges have names of their own, and times are only shown.
  if (unit === 'AWG' || unit === 'times') return undefined;
  // Some that are shown no formula can say.
  if (unit !== '' && !isUnit(unit)) return undefined;
  const amount = `${hand.pick([0, 1, 2, 3, 0.5, 12, 40])} ${unit}`.trim();
  const spread = type.stance === 'plain' && hand.chance(0.15) ? ` ± 10 ${unit}`.trimEnd() : '';
  // Units with half powers are shown and stand behind no number; degrees west and south go down.
  const { node, diagnostics } = parseFormula(amount, { isUnit, isPointUnit });
  if (diagnostics.length > 0 || node.kind !== 'number' || (spread !== '' && /^°[WS]$/u.test(unit)))
    return undefined;
  return amount + spread;
}

/** A scenario and a what-if give what editing the cell gives. */
export const overridden: Law = (text, hand) => {
  if (!isWhole(text)) return [];
  const session = openSession(text);
  const cells = session.snapshot().rows.filter((row) => row.kind === 'cell');
  if (cells.length === 0) return [];
  const { key, name: written } = hand.pick(cells);
  // Before its own = a name may have more spaces in it than elsewhere.
  const name = written.replace(/\s+/gu, ' ');
  const amount = replacement(session, key, hand);
  if (amount === undefined) return [];
  // An added line that cannot be part of what stands above it.
  const ended = text.endsWith('\n') ? text : `${text}\n`;
  const many = openSession(`${ended}scenario Law of overrides\n  ${name} = ${amount}\n`);
  const column = many.columnOf('Law of overrides');
  if (column < 1) return [];
  if (many.snapshot().messages.some(({ code }) => /^override-/u.test(code))) return [];
  const edited = openSession(text);
  if (!edited.do({ do: 'formula', cell: key, text: amount })) return [];
  const truth = amountsOf(edited, 0);
  const wrong = differing(truth, amountsOf(many, column)).map(
    (one) => `${name} = ${amount} in a scenario: ${one}`,
  );
  const other = hand.pick(cells);
  const put = hand.chance(0.2) ? '' : `${name} = ${amount}`;
  if (put === '' || amount.includes('±')) return wrong;
  const probe = openSession(`${ended}law probe = ${other.name} with ${put}\n`);
  const made = amountsOf(probe, 0).get('law probe');
  const wanted = truth.get(other.key);
  // What may not be asked in a what-if is told, and nothing is to be held against it.
  if (made === 'none' || made === undefined || made === wanted) return wrong;
  return [
    ...wrong,
    `${other.name} with ${put}: ${made.slice(0, 200)}, edited ${wanted?.slice(0, 200)}`,
  ];
};

/** A cell under another name, and back. */
export const renamed: Law = (text, hand) => {
  if (!isWhole(text)) return [];
  const session = openSession(text);
  const cells = session.snapshot().rows.filter((row) => row.kind === 'cell');
  if (cells.length === 0) return [];
  const { key, name, role } = hand.pick(cells);
  // With other spaces in it a name is written anew.
  if (/\s{2}|[^\S ]/u.test(name)) return [];
  const before = told(session);
  const values = valuesOf(session.report(0, true).cells);
  const fresh = 'some other name';
  if (!session.do({ do: 'rename', cell: key, name: fresh })) return [];
  const now = new Map(valuesOf(session.report(0, true).cells));
  // Draws go by names, so trials of a renamed uncertain given are others.
  const draws = /±|\.\.|between|usual|drawn sky/u.test(text);
  const wrong =
    role === 'uncertain' || draws
      ? []
      : differing(values, now.set(key, now.get(fresh) ?? 'nothing')).map(
          (one) => `renamed: ${one}`,
        );
  if (!session.do({ do: 'rename', cell: fresh, name }))
    return [...wrong, `${key} not renamed back`];
  // A name that was broken over two lines comes back on one, and what stands below moves up.
  const places = text.split(/\r\n|\n|\r/u).length === session.text.split(/\r\n|\n|\r/u).length;
  return [
    ...wrong,
    ...same(
      places ? before : told(openSession(text), false),
      told(session, places),
      `${key} renamed and back`,
    ),
  ];
};

// ── edits ───────────────────────────────────────────────────────────────────────────────────────

function anyEdit(session: Session, hand: Hand): Command {
  const rows = session.snapshot().rows;
  const cells = rows.filter((row) => row.kind === 'cell');
  const item = hand.whole(rows.length + 1);
  const formulas = ['0', '1 W', '? W', '2 W + ', 'none', '1..2..3 W', 'clock', '3 h', '"lamp"'];
  const pool = [...formulas, ...cells.flatMap(({ formula, name }) => [formula, name])];
  if (cells.length > 0 && hand.chance(0.65)) {
    const { key, formula } = hand.pick(cells);
    const figure = /[\d.]+/u.exec(formula);
    const text =
      figure && hand.chance(0.5)
        ? formula.replace(figure[0], String(hand.pick([0, 1, 3, 17, 0.25])))
        : hand.pick(pool);
    return { do: 'formula', cell: key, text };
  }
  return hand.pick<Command>([
    { do: 'insert', item, text: `new one = ${hand.pick(pool)}` },
    { do: 'remove', item },
    { do: 'move', item, to: hand.whole(rows.length + 1) },
    { do: 'rename', cell: hand.pick(cells)?.key ?? '', name: 'new name' },
    { do: 'entry', table: 't', row: hand.whole(3), column: hand.whole(5), text: hand.pick(pool) },
    { do: 'bounds', cell: hand.pick(cells)?.key ?? '', text: hand.pick(['1 W..3 W', '', '1, 2']) },
    { do: 'tidy' },
    { do: 'add scenario', name: 'Added' },
    {
      do: 'override',
      scenario: 'Added',
      target: hand.pick(cells)?.name ?? '',
      text: hand.pick(pool),
    },
  ]);
}

/** A session after any edits is one opened on the text, and taking them back gives the text. */
export const edited: Law = (text, hand) => {
  const session = openSession(text);
  const before = told(session);
  const wrong: string[] = [];
  for (let i = 1 + hand.whole(3); i > 0; i--) {
    const command = anyEdit(session, hand);
    session.do(command);
    if (hand.chance(0.3)) while (session.continue(1e9, () => 0));
    const fresh = openSession(session.text);
    const found = same(told(fresh), told(session), `after ${JSON.stringify(command)}`);
    wrong.push(...found);
    if (found.length > 0) break;
  }
  session.do({ do: 'text', text });
  if (session.text !== text) wrong.push('the text is not had back');
  return [...wrong, ...same(before, told(session), 'taken back')];
};

export const LAWS: Readonly<Record<string, Law>> = {
  bytes,
  printed,
  opened,
  asked,
  twice,
  tidied,
  takenOver,
  split,
  reordered,
  inAnotherUnit,
  overridden,
  renamed,
  edited,
};
