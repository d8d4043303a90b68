// What may stand where the cursor is: cells, columns, functions, units, joining words.

import { describeKind } from '../check/describe.ts';
import { findUnit, unitsOf } from '../dimension/unit.ts';
import { nameKey } from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Evaluation } from './evaluation.ts';
import { showValue } from './show-value.ts';
import type { Completion } from './snapshot.ts';

const WORDS: readonly (readonly [string, string])[] = [
  ['as', 'show in another unit'],
  ['with', 'the same, as if a cell were different'],
  ['within', 'lies inside a span, or within a tolerance'],
  ['if', 'one value or another'],
  ['then', 'the value if it holds'],
  ['else', 'the value if it does not'],
  ['and', 'both hold'],
  ['or', 'one of them holds'],
  ['not', 'does not hold'],
];

export function completionsFor(
  evaluation: Evaluation,
  cell: string,
  formula: string,
  position: number,
): readonly Completion[] {
  const { scope } = evaluation.checked;
  const before = formula.slice(0, position);
  // After a number stands a unit; after `as` too.
  const unit = /(?:\d\s*|\bas\s+)([^\s\d()+\-×*,]*)$/u.exec(before);
  const found: Completion[] = [];
  if (unit) {
    const typed = unit[1] ?? '';
    const from = position - typed.length;
    const own = scope.cells.get(nameKey(cell));
    const type = own === undefined ? undefined : evaluation.program.nodes[own]?.type;
    const listed = new Set<string>();
    const offer = (symbol: string, meaning: string): void => {
      if (
        symbol === '' ||
        listed.has(symbol) ||
        !symbol.toLowerCase().startsWith(typed.toLowerCase())
      )
        return;
      listed.add(symbol);
      found.push({ label: symbol, kind: 'unit', meaning, detail: '', insert: symbol, from });
    };
    if (type?.kind === 'quantity')
      for (const u of unitsOf(type.dimension)) offer(u.symbol, 'a unit of this cell');
    for (const symbol of [
      'W',
      'Wh',
      'V',
      'A',
      'Ah',
      'Ω',
      'm',
      'mm²',
      'AWG',
      'h',
      'min',
      'd',
      '%',
      '°C',
      'K',
      '°',
      'W/m²',
      'kg',
      'dB',
      'dBm',
      'kW',
      'kWh',
      'mW',
      'mA',
      'mV',
      'kV',
      'mΩ',
      'Ω/km',
      'km',
      'cm',
      'mm',
      'm²',
      'Wh/d',
      'Wh/m²',
      '%/K',
      'W/K',
      'L',
      'g',
      'MHz',
      'm/s',
      '°F',
    ])
      if (findUnit(symbol)) offer(symbol, 'a unit');
    // A number may also stand inside a name: `day 2 harvest`.
    if (found.length > 0 || typed === '') return found.slice(0, 12);
  }
  // The phrase being typed: words with single spaces, back to an operator or a joining word.
  const phrase =
    /(?:^|[^\p{L}\p{N}'’_ -])\s*((?:[\p{L}][\p{L}\p{N}'’_-]*)(?: [\p{L}\p{N}][\p{L}\p{N}'’_-]*)*)?$/u.exec(
      before,
    )?.[1] ?? '';
  const words = phrase.split(' ');
  const joining = new Set(WORDS.map(([w]) => w));
  let first = 0;
  words.forEach((word, i) => {
    if (joining.has(word.toLowerCase()) && i < words.length - 1) first = i + 1;
  });
  const typed = words.slice(first).join(' ').toLowerCase();
  const from = position - typed.length;
  const part = /([\p{L}][\p{L}\p{N}'’_ -]*)\.\s*([\p{L}\p{N} ]*)$/u.exec(before);
  if (part) {
    const table = scope.tables.get(nameKey(part[1] ?? ''));
    const typedPart = (part[2] ?? '').toLowerCase();
    if (table) {
      for (const id of table.columns) {
        const node = evaluation.program.nodes[id];
        const name = node?.name.slice(table.name.length + 1) ?? '';
        if (name.toLowerCase().includes(typedPart))
          found.push({
            label: name,
            kind: 'column',
            meaning: `a column of ${table.name}`,
            detail: node?.type ? describeKind(node.type) : '',
            insert: name,
            from: position - typedPart.length,
          });
      }
      return found;
    }
  }
  if (typed === '') return [];
  const rank = (name: string): number =>
    name.toLowerCase().startsWith(typed)
      ? 0
      : name.toLowerCase().includes(` ${typed}`)
        ? 1
        : name.toLowerCase().includes(typed)
          ? 2
          : 3;
  const options: { rank: number; completion: Completion }[] = [];
  const itemOf = (id: number): string => {
    const item = scope.notebook.items[evaluation.program.nodes[id]?.item ?? -1];
    return item?.kind === 'cell' ? (item.note?.text ?? '') : '';
  };
  for (const [key, id] of scope.cells) {
    const node = evaluation.program.nodes[id];
    if (!node || key === nameKey(cell)) continue;
    const r = rank(node.name);
    if (r < 3)
      options.push({
        rank: r,
        completion: {
          label: node.name,
          kind: 'cell',
          meaning:
            itemOf(id) ||
            (node.role === 'given' ? 'given' : node.type ? describeKind(node.type) : ''),
          detail: showValue(evaluation, id, 0).text,
          insert: node.name,
          from,
        },
      });
  }
  for (const table of scope.tables.values())
    if (rank(table.name) < 3)
      options.push({
        rank: rank(table.name),
        completion: {
          label: table.name,
          kind: 'cell',
          meaning: 'a table',
          detail: `${table.rowCount} rows`,
          insert: table.name,
          from,
        },
      });
  for (const fn of libraryFunctions.values()) {
    const r = rank(fn.name);
    const names = fn.parameters.map((p, i) => (i < fn.positional ? p.name : `${p.name}:`));
    if (r < 3)
      options.push({
        rank: r + 0.5,
        completion: {
          label: `${fn.name}(${names.join(', ')})`,
          kind: 'function',
          meaning: fn.meaning,
          detail: '',
          insert: `${fn.name}(`,
          from,
        },
      });
  }
  for (const [word, meaning] of WORDS)
    if (word.startsWith(typed) && word !== typed)
      options.push({
        rank: 1.5,
        completion: { label: word, kind: 'word', meaning, detail: '', insert: word, from },
      });
  options.sort((a, b) => a.rank - b.rank || a.completion.label.length - b.completion.label.length);
  return options.slice(0, 12).map((o) => o.completion);
}
