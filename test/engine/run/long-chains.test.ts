// Chains of cells as long as a notebook may be. What each cell waits for must be known without
// following the chain, or a notebook takes as many steps as the square of its cells: it is held by what
// the cells keep, not by a clock. Names of roots by hand from the texts.

import { describe, expect, test } from 'vitest';
import { openSession, type Session } from '../../../engine/index.ts';

const LENGTH = 2000;

/** A cell `c 0` and a chain of others, each on the one before; `upward` writes the last of them first. */
function chain(first: string, upward: boolean): string {
  const lines = Array.from({ length: LENGTH }, (_, k) =>
    k === 0 ? `c 0 = ${first}` : `c ${k} = c ${k - 1} + 1 W`,
  );
  return `dapple 1\n\nz = 0\n${(upward ? lines.reverse() : lines).join('\n')}\n`;
}

/** What the cells of a chain wait for by themselves, without going further. */
function waitedFor({ evaluation }: Session): readonly string[] {
  const { cells } = evaluation.checked.scope;
  const names = new Set<string>();
  for (let k = 1; k < LENGTH; k++) {
    const fault = evaluation.plan.faults[cells.get(`c ${k}`) ?? -1];
    names.add(
      fault?.kind === 'waits' ? (evaluation.program.nodes[fault.on]?.name ?? '') : `${fault?.kind}`,
    );
  }
  return [...names];
}

function told(session: Session, cell: string): string {
  const row = session.snapshot().rows.find((one) => one.kind === 'cell' && one.name === cell);
  return row?.kind === 'cell' ? (row.values[0]?.text ?? '') : '';
}

describe.each([
  ['a name that is missing', 'missing + 1 W'],
  ['a number that is none', '1 W / z'],
  ['a blank', '? W'],
])('a chain from %s', (_what, first) => {
  test.each([
    ['downward', false],
    ['upward', true],
  ])('waits for its root, written %s', (_way, upward) => {
    const session = openSession(chain(first, upward));
    expect(waitedFor(session)).toEqual(['c 0']);
    expect(told(session, `c ${LENGTH - 1}`)).toBe('waits for c 0');
  });

  test('and works when the root is mended', () => {
    const session = openSession(chain(first, false));
    session.snapshot();
    expect(session.do({ do: 'formula', cell: 'c 0', text: '5 W' })).toBe(true);
    expect(told(session, `c ${LENGTH - 1}`)).toBe('2004\u00a0W');
    session.do({ do: 'formula', cell: 'c 0', text: '1 W / z' });
    expect(told(session, `c ${LENGTH - 1}`)).toBe('waits for c 0');
    // Another root on the way: the cells behind it wait for that one.
    session.do({ do: 'formula', cell: 'c 0', text: '5 W' });
    session.do({ do: 'formula', cell: 'c 1000', text: 'c 999 / z' });
    expect(told(session, 'c 999')).toBe('1004\u00a0W');
    expect(told(session, `c ${LENGTH - 1}`)).toBe('waits for c 1000');
  });
});

test('every cell of a long circle waits for the one that has the message', () => {
  const session = openSession(chain(`c ${LENGTH - 1}`, false));
  const { messages } = session.snapshot();
  expect(messages.map(({ code }) => code)).toEqual(['circle']);
  const names = waitedFor(session).filter((name) => name !== 'error');
  expect(names).toHaveLength(1);
});
