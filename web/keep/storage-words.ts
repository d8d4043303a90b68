// What went wrong with keeping, in words a reader can act on.

const CAUSES: Readonly<Record<string, string>> = {
  QuotaExceededError: 'the disk is full',
  NoAnswer: 'the browser’s storage does not answer',
  SecurityError: 'this browser lets the page keep nothing',
  InvalidStateError: 'the browser closed its storage',
  ReferenceError: 'this browser has no storage',
  TypeError: 'this browser has no storage',
};

/** `the disk is full`; and, when the journal took it, that the last text is in reserve. */
export function storageWords(reason: unknown, inJournal: boolean): string {
  const name = reason instanceof Error || reason instanceof DOMException ? reason.name : '';
  const cause = CAUSES[name] ?? 'the browser’s storage cannot be used';
  return inJournal ? `${cause}; only a reserve copy of the last text is kept` : cause;
}
