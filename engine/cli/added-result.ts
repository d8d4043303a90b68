// The cell that `--expression` adds. In what is printed it is called `result`, whatever the notebook
// has of that name, and its messages count from the formula that was typed.

import { openSession, type Report } from '../index.ts';

const NAME = 'result';
/** What a cell of the notebook is called that has the name already. */
const OTHER = 'result (in the notebook)';

export interface Added {
  readonly text: string;
  /** The name of the added cell in the text. */
  readonly name: string;
  /** The line it stands on. */
  readonly line: number;
}

/** A message; of the expression when it says so, with a column in it. */
export type Told = Report['messages'][number] & { readonly of?: 'expression' };

/** A notebook with one more cell. */
export function withResult(text: string, expression: string): Added {
  // To open a notebook works it out: only one in which the word stands can have taken the name.
  const scope = /result/iu.test(text) ? openSession(text).evaluation.checked.scope : undefined;
  const isTaken = (name: string): boolean =>
    scope !== undefined && (scope.cells.has(name) || scope.tables.has(name));
  let name = NAME;
  for (let n = 1; isTaken(name); n++) name = `expression result ${n}`;
  // A blank line first, for a notebook may end with its header.
  const before = `${text === '' ? 'dapple 1' : text}\n\n`;
  const formula = expression.trim().replace(/\s*[\r\n]+\s*/gu, ' ');
  return {
    text: `${before}${name} = ${formula}\n`,
    name,
    line: before.split(/\r\n|\n|\r/u).length,
  };
}

/** What was found, with the added cell called `result` and its messages told apart. */
export function resultApart(
  report: Report,
  { name, line }: Added,
): Omit<Report, 'messages'> & { readonly messages: readonly Told[] } {
  const cells = Object.entries(report.cells).map(
    ([key, cell]) => [name === NAME || key !== NAME ? key : OTHER, cell] as const,
  );
  const messages = report.messages.map((message): Told => {
    if (message.line < line) return message;
    const column = Math.max(1, message.column - `${name} = `.length);
    return { ...message, of: 'expression', line: 1, column };
  });
  return {
    ...report,
    cells: Object.fromEntries(cells.map(([key, cell]) => [key === name ? NAME : key, cell])),
    messages,
  };
}
