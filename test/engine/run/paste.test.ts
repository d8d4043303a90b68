// Lines pasted into a notebook hang together as they did, and nothing that stood there changes.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { openSession, type Session } from '../../../engine/index.ts';

const NOTEBOOK = `dapple 1
title: Camp

panel = 100 W
loss = 5 %
power = panel × (1 - loss)
check power ≥ 50 W

scenario Small
  panel = 40 W
`;

function shownIn(session: Session, name: string): string {
  const row = session.snapshot().rows.find((one) => one.kind === 'cell' && one.name === name);
  return row?.kind === 'cell' ? (row.values[0]?.text ?? '') : 'no such cell';
}

test('names that are taken get a number, in every use within the lines', () => {
  const session = openSession(NOTEBOOK);
  const lines = 'panel = 60 W\npower = panel × 2 -- of panel\nother = power + loss × panel\n';
  expect(session.do({ do: 'paste', item: 3, text: lines })).toBe(true);
  expect(session.text).toContain('panel 2 = 60 W\npower 2 = panel 2 × 2 -- of panel\n');
  // Loss is not among the lines: the one that stands here is meant.
  expect(session.text).toContain('other = power 2 + loss × panel 2\n');
  expect(shownIn(session, 'power')).toBe('95\u00a0W');
  expect(shownIn(session, 'other')).toBe('123\u00a0W');
  expect(session.snapshot().messages).toEqual([]);
});

test('pasting the same once more counts on', () => {
  const session = openSession(NOTEBOOK);
  session.do({ do: 'paste', item: 4, text: 'loss = 5 %\n' });
  session.do({ do: 'paste', item: 4, text: 'loss 2 = 7 %\n' });
  expect(session.text).toContain('loss 2 = 5 %');
  expect(session.text).toContain('loss 3 = 7 %');
});

test('a scenario that is there already gets a name of its own', () => {
  const session = openSession(NOTEBOOK);
  const end = (session.snapshot().rows.at(-1)?.item ?? 0) + 1;
  session.do({ do: 'paste', item: end, text: 'scenario Small\n  panel = 30 W\n' });
  expect(session.text).toContain('scenario Small 2\n  panel = 30 W');
  expect(session.snapshot().verdicts.map(({ name }) => name)).toEqual(['Plan', 'Small', 'Small 2']);
});

test('anything at all is pasted or refused, and undone to the byte', () => {
  const lines = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc
      .array(fc.constantFrom('panel = 3 W', 'x', '  y | z', '# H', 'scenario Small', '', '| t'))
      .map((parts) => parts.join('\n')),
  );
  fc.assert(
    fc.property(lines, fc.nat(12), (text, item) => {
      const session = openSession(NOTEBOOK);
      session.do({ do: 'paste', item, text });
      // Indented lines go on with what stands above them; all else keeps its lines.
      expect(session.text).toContain('power = panel × (1 - loss)');
      session.do({ do: 'text', text: NOTEBOOK });
      expect(session.text).toBe(NOTEBOOK);
    }),
    { numRuns: 200 },
  );
});
