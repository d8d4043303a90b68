// Tables between a notebook and the programs that keep them as text.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  openSession,
  placeRows,
  type Session,
  type TableFromText,
  type TableRowShown,
  tableFromText,
  tableLines,
  tableToText,
} from '../../../engine/index.ts';
import { testCases } from '../../tools/test-cases.ts';

const HEADER = 'dapple 1\ntitle: Loads\n\n';

function tableOf(session: Session): TableRowShown {
  const row = session.snapshot().rows.find((one) => one.kind === 'table');
  if (row?.kind !== 'table') throw new Error('no table');
  return row;
}

function read(text: string): TableFromText {
  const made = tableFromText(text);
  if ('fault' in made) throw new Error(made.fault);
  return made;
}

/** A notebook that holds the table alone. */
function notebookWith(text: string, name = 'loads'): Session {
  return openSession(HEADER + tableLines(name, read(text)));
}

function texts(session: Session): readonly (readonly string[])[] {
  return tableOf(session).entries.map((row) => row.map((entry) => entry.text));
}

describe('a table comes in', () => {
  test('units in the headings go to bare numbers', () => {
    const session = notebookWith(
      'item;power (W);share [%];hours\nlamp;6,5;100;20:30..23:00\nradio;38;60;19:00..21:00',
    );
    expect(session.snapshot().messages).toEqual([]);
    expect(tableOf(session).columns.map((column) => column.name)).toEqual([
      'item',
      'power',
      'share',
      'hours',
    ]);
    expect(texts(session)).toEqual([
      ['lamp', '6.5 W', '100 %', '20:30..23:00'],
      ['radio', '38 W', '60 %', '19:00..21:00'],
    ]);
  });

  test('headings become names, no two alike', () => {
    const made = read('as if,Power!,Power?,,12 V rail,mass (dry)\na,1,2,3,4,5');
    expect(made.columns).toEqual(['as-if', 'Power', 'Power 2', 'column 4', 'V rail', 'mass dry']);
    expect(
      notebookWith('as if,Power!,Power?,,12 V rail,mass (dry)\na,1,2,3,4,5').snapshot().messages,
    ).toEqual([]);
  });

  test('a table without headings gets numbered columns', () => {
    expect(read('1,2\n3,4')).toMatchObject({
      columns: ['column 1', 'column 2'],
      rows: [
        ['1', '2'],
        ['3', '4'],
      ],
      headed: false,
    });
  });

  test('“n/a” among numbers becomes empty, and that is told', () => {
    const made = read('day,high\n1,20 °C\n2,n/a');
    expect(made.rows).toEqual([
      ['1', '20 °C'],
      ['2', ''],
    ]);
    expect(made.notes).toEqual([expect.stringMatching(/^1 entry .* became empty/)]);
  });

  test('what could be a border, a note, a formula or a quote stays words', () => {
    const session = notebookWith(
      'item,words\n1,a | b\n2,c -- d\n3,=power\n4,"say ""x"""\n5,"“a"" b"\n6,"""open"',
    );
    expect(session.snapshot().messages).toEqual([]);
    expect(texts(session).map((row) => row[1])).toEqual([
      '"a | b"',
      '"c -- d"',
      '"=power"',
      '“say "x"”',
      '"“a” b"',
      '“"open”',
    ]);
  });

  test('a column of numbers and words is words', () => {
    expect(read('item,what\na,12\nb,3 of them').rows).toEqual([
      ['a', '"12"'],
      ['b', '3 of them'],
    ]);
  });

  test.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])(
    '%s is a name like others',
    (name) => {
      const session = openSession(HEADER + tableLines(name, read(`${name},b\n1,2\n2,4`)));
      const shown = tableOf(session);
      expect(shown.entries.map((row) => row[1]?.text)).toEqual(['2', '4']);
      expect(Reflect.getPrototypeOf({})).toBe(Object.prototype);
      expect(Reflect.get({}, 'b')).toBeUndefined();
    },
  );
});

describe('a table goes out', () => {
  const session = openSession(`${HEADER}hours = table
  item  | power   | time  | energy = power × time as Wh
  lamp  | 6.5 W   | 2 h   |
  radio | 1 kW    | 0.5 h |
  "a, b" |        | 1 h   |
`);
  test('with units in the heads where a column has one, and without where it has two', () => {
    expect(session.snapshot().messages).toEqual([]);
    expect(tableToText(tableOf(session), ',')).toBe(
      'item,power,time (h),energy (Wh)\r\nlamp,6.5 W,2,13\r\nradio,1 kW,0.5,500\r\n"a, b",,1,\r\n',
    );
  });
  test('with decimal commas between semicolons', () => {
    expect(tableToText(tableOf(session), ';')).toContain('radio;1 kW;0,5;500\r\n');
  });
  test('and comes back the same', () => {
    for (const separator of [',', ';', '\t'] as const) {
      const again = notebookWith(tableToText(tableOf(session), separator), 'hours');
      expect(texts(again).map((row) => row.slice(0, 3))).toEqual([
        ['lamp', '6.5 W', '2 h'],
        ['radio', '1 kW', '0.5 h'],
        ['a, b', '', '1 h'],
      ]);
    }
  });
  test('words that another program would run are guarded', () => {
    const hostile = notebookWith(`item,words\n1,=1+1\n2,@sum\n3,+a\n4,-b\n5,'=x`);
    const out = tableToText(tableOf(hostile), ',');
    expect(out.split('\r\n').slice(1, 6)).toEqual([
      "1,'=1+1",
      "2,'@sum",
      "3,'+a",
      "4,'-b",
      "5,'=x",
    ]);
    expect(texts(notebookWith(out))).toEqual(texts(hostile));
  });
});

describe('rows go into a table that stands', () => {
  const text = `${HEADER}loads = table
  item  | power | time | energy = power × time as Wh -- worked
  lamp  | 6 W   | 2 h  | -- over the table
  radio | 38 W  | 1 h  |
rest = 1 W
`;
  const place = (
    pasted: string,
    row: number,
    column: number,
  ): { session: Session; notes: readonly string[] } => {
    const session = openSession(text);
    const placed = placeRows(tableOf(session), pasted, { row, column });
    if ('fault' in placed) throw new Error(placed.fault);
    expect(
      session.do({ do: 'rows', table: 'loads', row: placed.row, entries: placed.entries }),
    ).toBe(true);
    expect(session.snapshot().messages).toEqual([]);
    return { session, notes: placed.notes };
  };

  test('from the entry in hand on, in the unit of the column, and further rows below', () => {
    const { session } = place('radio\t10\t3 h\nfan\t20\t4 h\npump\t30\t5 h', 1, 0);
    expect(session.text).toContain('  lamp  | 6 W   | 2 h  | -- over the table\n');
    expect(texts(session).map((row) => row.slice(0, 3))).toEqual([
      ['lamp', '6 W', '2 h'],
      ['radio', '10 W', '3 h'],
      ['fan', '20 W', '4 h'],
      ['pump', '30 W', '5 h'],
    ]);
  });
  test('notes stay with their rows', () => {
    expect(place('7', 0, 1).session.text).toMatch(
      /^ {2}lamp +\| 7 W +\| 2 h +\| -- over the table$/m,
    );
  });
  test('by their headings, in any order, and formulas stay', () => {
    const { session, notes } = place('power (kW),item,energy,colour\n0.1,pump,999,red', 2, 0);
    expect(texts(session)[2]).toEqual(['pump', '0.1 kW', '', '']);
    expect(notes).toEqual([
      'One column has no place here and stayed out.',
      'Columns with a formula keep it.',
    ]);
  });
  test('words without a heading are rows', () => {
    expect(texts(place('pump\nfan', 2, 0).session).map((row) => row[0])).toEqual([
      'lamp',
      'radio',
      'pump',
      'fan',
    ]);
  });
  test('what fits no column is refused', () => {
    const session = openSession(text);
    expect(placeRows(tableOf(session), '1', { row: 0, column: 9 })).toEqual({
      fault: expect.stringMatching(/No column/),
    });
  });
});

test('whatever is pasted, the notebook keeps its other lines and reads without a slip', () => {
  const word = fc.oneof(
    fc.string({ unit: 'grapheme', maxLength: 10 }),
    fc.constantFrom(
      '|',
      '--',
      '"',
      '=1',
      '1,5',
      '12 W',
      '2027-13-45',
      '25:99',
      '“',
      '#',
      '1e999',
      '__proto__',
      '\u2028',
      "'=1",
      'a\nb',
      '9'.repeat(400),
    ),
  );
  fc.assert(
    fc.property(
      fc.array(fc.array(word, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 5 }),
      fc.constantFrom(',', ';', '\t'),
      (rows, separator) => {
        const made = tableFromText(rows.map((row) => row.join(separator)).join('\n'));
        if ('fault' in made) {
          expect(made.fault).toMatch(/\.$/);
          return;
        }
        const lines = tableLines('pasted', made);
        const session = openSession(`${HEADER}before = 1 W\n${lines}after = 2 W\n`);
        const { rows: shown } = session.snapshot();
        expect(shown.map((row) => row.kind)).toEqual(['cell', 'table', 'cell']);
        expect(tableOf(session).entries).toHaveLength(made.rows.length);
        expect(tableOf(session).columns.map((column) => column.name)).toEqual(made.columns);
        expect(tableOf(session).entries.map((row) => row.map((entry) => entry.written))).toEqual(
          made.rows,
        );
      },
    ),
    { numRuns: testCases(500) },
  );
});
