// The lines of a scenario: its name, then prose after `|` and one change a line.

import type { Diagnostic } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import { signOutsideText } from '../source/quote.ts';
import { type Line, noteAt, noteMark, pieceAt, trimmed } from './lines.ts';
import type { Piece, ScenarioItem } from './notebook.ts';

export type ReadScenario = Pick<ScenarioItem, 'name' | 'prose' | 'overrides'>;

/** `rest` is where the first line goes on after its word; spans count from the first line's start. */
export function readScenario(
  text: string,
  lines: readonly Line[],
  rest: number,
  diagnostics: Diagnostic[],
): ReadScenario {
  const first = lines[0] ?? { start: 0, end: 0, next: 0 };
  const base = first.start;
  const mark = noteMark(text, rest, first.end);
  const name = pieceAt(text, trimmed(text, rest, mark < 0 ? first.end : mark), base);
  if (name.text === '') diagnostics.push(message('scenario-name', { start: base, end: rest }, []));
  const prose: Piece[] = [];
  const overrides: ScenarioItem['overrides'][number][] = [];
  for (const line of lines.slice(1)) {
    const inner = trimmed(text, line.start, line.end);
    if (text.charAt(inner.start) === '|') {
      prose.push(pieceAt(text, trimmed(text, inner.start + 1, line.end), base));
      continue;
    }
    const noteStart = noteMark(text, line.start, line.end);
    if (noteStart === inner.start) continue;
    const end = noteStart < 0 ? line.end : noteStart;
    const equals = signOutsideText(text, inner.start, end, '=');
    const target = equals < 0 ? inner : trimmed(text, inner.start, equals);
    if (equals < 0 || equals === inner.start) {
      diagnostics.push(message('scenario-line', inner, []));
      continue;
    }
    const note = noteAt(text, noteStart, line.end, base);
    const override = {
      target: pieceAt(text, target, base),
      value: pieceAt(text, trimmed(text, equals + 1, end), base),
    };
    overrides.push(note === undefined ? override : { ...override, note });
  }
  return { name, prose, overrides };
}
