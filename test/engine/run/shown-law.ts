// Whatever the text, all of it is shown: without an exception, with no value that is none and silent,
// and with every message at a place that there is.

import { type Message, openSession, type Session } from '../../../engine/index.ts';
import type { Hand } from '../../tools/dice.ts';

/** Takes a text and says how the law is broken. */
export type Law = (text: string, hand: Hand) => readonly string[];

/** Words that a value of ours must never have. */
const SLIPS = /\b(?:NaN|Infinity|undefined|\[object)\b/u;

/** Whether words of ours have one that the notebook itself has not. */
const isSlip = (words: string, text: string): boolean => {
  const [slip] = SLIPS.exec(words) ?? [];
  return slip !== undefined && !text.includes(slip);
};

/** A number that is none stands only where an entry may be absent, and no number is infinite. */
function silentNumbers(session: Session): readonly string[] {
  const wrong: string[] = [];
  const { columns, program } = session.evaluation;
  for (const [index, { memory }] of columns.entries())
    for (const { id, key, type } of program.nodes) {
      if (!type || type.kind === 'window' || memory.faults[id] !== undefined) continue;
      for (const place of program.operands[id] ?? []) {
        const values = place >= 0 ? [memory.scalars[place] as number] : memory.array(place);
        for (const value of values)
          if (type.optional && Number.isNaN(value) ? false : !Number.isFinite(value)) {
            wrong.push(`${key} in column ${index} is ${value} and says nothing`);
            break;
          }
      }
    }
  return wrong;
}

/** What is wrong with the places of messages: each lies in a line of the text and in its item. */
function misplaced(
  text: string,
  messages: readonly Message[],
  session: Session,
): readonly string[] {
  const lines = text.split(/\r\n|\n|\r/u);
  const { items } = session.evaluation.checked.scope.notebook;
  return messages.flatMap(({ code, text: words, line, column, item, span, fixes }) => {
    const wrong: string[] = [];
    const here = `${line}:${column} ${code}`;
    if (isSlip(words, text) || words.trim() === '') wrong.push(`${here} says ${words}`);
    const length = lines[line - 1]?.length ?? -1;
    if (!(line >= 1 && column >= 1 && column <= length + 1)) wrong.push(`${here} lies nowhere`);
    const from = items[item]?.offset ?? 0;
    const end = item < 0 ? text.length : (items[item]?.source.length ?? -1);
    for (const place of [span, ...fixes.map((fix) => fix.span)])
      if (!(place.start >= (item < 0 ? -from : 0) && place.start <= place.end && place.end <= end))
        wrong.push(`${here} spans ${place.start} to ${place.end} of ${end}`);
    return wrong;
  });
}

/** Words of the rows that are slips of ours. */
function slipsIn(text: string, session: Session): readonly string[] {
  const said = (where: string, ...words: readonly string[]): readonly string[] =>
    words.filter((one) => isSlip(one, text)).map((one) => `${where} says ${one}`);
  const { rows, verdicts } = session.snapshot();
  return [
    ...verdicts.flatMap(({ headline, tightest }) => said('verdict', headline, tightest)),
    ...rows.flatMap((row) => {
      switch (row.kind) {
        case 'chart': {
          const { title, text: words, spoken } = session.chart(row.item);
          return said('chart', title, words, spoken);
        }
        case 'cell':
          return row.values.flatMap(({ text: words, state }) =>
            state === 'error' && words === ''
              ? [`${row.name} has no value and no word why`]
              : said(row.name, words),
          );
        case 'check':
          return row.values.flatMap(({ text: words, marginText }) =>
            said('check', words, marginText),
          );
        case 'table':
          return row.entries.flatMap((list) => said(row.name, ...list.map((one) => one.text)));
        default:
          return [];
      }
    }),
  ];
}

/** Everything is shown without an exception, in every column, and nothing of it is a slip of ours. */
export const opened: Law = (text) => {
  const session = openSession(text);
  const wrong = session.text === text ? [] : ['another text'];
  wrong.push(...slipsIn(text, session));
  for (const index of session.evaluation.columns.keys()) {
    const { cells } = session.report(index, true);
    for (const [name, cell] of Object.entries(cells))
      if (isSlip(cell.text, text)) wrong.push(`${name} in column ${index} says ${cell.text}`);
  }
  wrong.push(...misplaced(text, session.snapshot().messages, session), ...silentNumbers(session));
  return wrong;
};

/** What the page asks about a cell while it is looked at or written is answered. */
export const asked: Law = (text, hand) => {
  const session = openSession(text);
  const { rows, verdicts } = session.snapshot();
  const cells = rows.filter((row) => row.kind === 'cell');
  if (cells.length === 0) return [];
  const { key, formula } = hand.pick(cells);
  const at = hand.whole(formula.length + 1);
  session.worked(key, hand.whole(verdicts.length));
  session.preview(key, formula.slice(0, at));
  session.completions(key, formula, at);
  session.signature(formula, at);
  session.solution(key);
  session.unitChoices(key);
  return [];
};
