// What may stand where the cursor is: cells, columns, functions, units, joining words.

import { describeKind } from '../check/describe.ts';
import { nameKey } from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Evaluation } from './evaluation.ts';
import { showValue } from './show-value.ts';
import type { Completion } from './snapshot.ts';
import { unitCompletions } from './unit-completion.ts';

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

/** Characters before the caret that are looked at: more are no name that is being typed. */
const LONGEST_PHRASE = 300;

export function completionsFor(
  evaluation: Evaluation,
  cell: string,
  formula: string,
  position: number,
): readonly Completion[] {
  const { scope } = evaluation.checked;
  const before = formula.slice(Math.max(0, position - LONGEST_PHRASE), position);
  const units = unitCompletions(evaluation, cell, formula, position);
  // A number may also stand inside a name: `day 2 harvest`.
  if (units && (units.found.length > 0 || units.typed === '')) return units.found.slice(0, 12);
  const found: Completion[] = [];
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
