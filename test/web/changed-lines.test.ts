import { expect, test } from 'vitest';
import { changedLines } from '../../web/changed-lines.ts';

const words = (before: string, after: string): string[] =>
  changedLines(before, after).map(
    ({ kind, text }) => `${kind === 'added' ? '+' : kind === 'same' ? ' ' : '-'}${text}`,
  );

test('a changed line stands between its neighbours, the rest is left out', () => {
  const before = 'a = 1\nb = 2\nc = 3\nd = 4\ne = 5\n';
  expect(words(before, before.replace('c = 3', 'c = 30'))).toEqual([
    ' b = 2',
    '-c = 3',
    '+c = 30',
    ' d = 4',
    ' …',
  ]);
});

test('the same text has no changed line', () => {
  expect(words('a = 1\n', 'a = 1\n')).toEqual([]);
});

test('lines are told apart to the last one, whatever ends them', () => {
  expect(words('a = 1', 'a = 1\nb = 2')).toContain('+b = 2');
  expect(words('a = 1\r\nb = 2\r\n', 'a = 1\r\n')).toContain('-b = 2');
});
