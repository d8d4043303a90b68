// A mistake of ours, as the reader may send it to whoever mends it: what happened, in which version,
// in which browser. What stands in the notebook goes with it only when the reader says so.

import { version } from '../../package.json';

export interface Trouble {
  /** What the page was doing: `drawing the page`. */
  readonly doing: string;
  /** The error's own words. */
  readonly message: string;
  /** Where in the program it happened. */
  readonly trace: string;
  readonly when: number;
}

/** An error message may quote a formula: this much of it is told at most. */
const LONGEST = 300;

function shortened(text: string): string {
  return text.length > LONGEST ? `${text.slice(0, LONGEST)} …` : text;
}

/** Addresses name the notebook and the host; the file and the place in it are enough. */
function placesOf(stack: string): string {
  const lines = stack.split('\n').filter((line) => /:\d+:\d+/.test(line));
  return lines
    .slice(0, 12)
    .map((line) => line.trim().replace(/[a-z]+:\/\/[^\s)]*\//g, ''))
    .join('\n');
}

export function troubleOf(doing: string, reason: unknown): Trouble {
  const when = Date.now();
  if (reason instanceof Error) {
    const message = shortened(`${reason.name}: ${reason.message}`);
    return { doing, message, trace: placesOf(reason.stack ?? ''), when };
  }
  return { doing, message: shortened(String(reason)), trace: '', when };
}

/** A message may quote a formula or a name; the report leaves them out. */
function withoutQuotes(message: string): string {
  return message.replace(/“[^”]*”|‘[^’]*’|"[^"]*"|'[^']*'|`[^`]*`/g, '“…”');
}

/** The report as plain text; with the notebook only when its text is handed in. */
export function reportText(trouble: Trouble, browser: string, notebook?: string): string {
  const lines = [
    `Dapple ${version}`,
    browser,
    new Date(trouble.when).toISOString(),
    `While ${trouble.doing}: ${notebook === undefined ? withoutQuotes(trouble.message) : trouble.message}`,
    trouble.trace,
  ];
  if (notebook !== undefined) lines.push('', 'The notebook:', notebook);
  return lines.filter((line, index) => line !== '' || index > 4).join('\n');
}
