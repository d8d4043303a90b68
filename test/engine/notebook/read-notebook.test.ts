// Reading: any text can be read and written back to the byte, and the lines mean what the page on the
// notebook file says.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Item, Piece } from '../../../engine/notebook/notebook.ts';
import { lineAndColumn, readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { writeNotebook } from '../../../engine/notebook/write-notebook.ts';
import { testCases } from '../../tools/test-cases.ts';
import { SAMPLE, STARTERS } from './sample.ts';

const samples: readonly (readonly [string, string])[] = [['sample', SAMPLE], ...STARTERS];

const soup = fc
  .array(
    fc.constantFrom(
      ...[
        'dapple 1',
        'dapple 9',
        'title: x',
        'place: 91 °N',
        '\n',
        '\r\n',
        '\r',
        ' ',
        '\t',
        '\u00a0',
      ],
      ...[
        'a = 1',
        'a = table',
        'x | y',
        '  ',
        '|',
        '#',
        '!',
        '--',
        ' -- n',
        ' — n',
        '[1..2]',
        '"',
        '“',
      ],
      ...[
        'check a',
        'must',
        'answer',
        'answer a = 1',
        'chart a',
        'scenario S',
        '  a = 2',
        '=',
        '\ufeff',
      ],
      ...['\u200f', '\u2028', '\ud800', '🙂', 'twice as long = 2', 'none = 1', '\0'],
    ),
    { maxLength: 40 },
  )
  .map((pieces) => pieces.join(''));

/** A sample with a stretch cut out or a piece of soup put in. */
const mutated = fc
  .tuple(fc.constantFrom(...samples), fc.nat(), fc.nat(40), soup)
  .map(([[, text], place, length, put]) => {
    const at = place % (text.length + 1);
    return text.slice(0, at) + put + text.slice(at + length);
  });

/** Every piece of an item, wherever it hangs. */
function piecesOf(item: Item): readonly Piece[] {
  const pieces: Piece[] = [];
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    if ('span' in value && 'text' in value) pieces.push(value as Piece);
    else for (const inner of Object.values(value)) visit(inner);
  };
  visit(item);
  return pieces;
}

describe('any text', () => {
  test('is written back to the byte, its pieces lie where they say, its messages inside', () => {
    fc.assert(
      fc.property(fc.oneof(soup, mutated, fc.string({ unit: 'binary' })), (text) => {
        const notebook = readNotebook(text);
        expect(writeNotebook(notebook)).toBe(text);
        let offset = notebook.headerSource.length;
        for (const item of notebook.items) {
          expect(item.offset).toBe(offset);
          expect(item.source).not.toBe('');
          expect(item.line).toBe(lineAndColumn(text, offset).line);
          for (const { text: piece, span } of piecesOf(item)) {
            expect(item.source.slice(span.start, span.end)).toBe(piece);
            expect(piece.trim()).toBe(piece);
          }
          offset += item.source.length;
        }
        for (const { span } of notebook.diagnostics) {
          expect(span.start).toBeGreaterThanOrEqual(0);
          expect(span.end).toBeGreaterThanOrEqual(span.start);
          expect(span.end).toBeLessThanOrEqual(text.length);
        }
      }),
      { numRuns: testCases(2000) },
    );
  });

  test.each(samples)('%s reads without an unread line but those meant', (name, text) => {
    const { items, diagnostics } = readNotebook(text);
    const unread = items.filter(({ kind }) => kind === 'unread').map(({ source }) => source.trim());
    expect(unread).toEqual(name === 'sample' ? ['this is no cell'] : []);
    expect(diagnostics.map(({ code }) => code)).toEqual(name === 'sample' ? ['line-unread'] : []);
  });
});

describe('the sample', () => {
  const { items, header } = readNotebook(SAMPLE);
  const ofKind = <Kind extends Item['kind']>(
    kind: Kind,
  ): Extract<Item, { readonly kind: Kind }>[] =>
    items.filter((item): item is Extract<Item, { readonly kind: Kind }> => item.kind === kind);

  test('its header: 44.5° and -110.2° in radians, 2100 m, six hours behind in seconds', () => {
    expect(header).toEqual({
      version: 1,
      title: 'A weekend',
      place: {
        latitude: (44.5 * Math.PI) / 180,
        longitude: (-110.2 * Math.PI) / 180,
        altitude: 2100,
        offset: -6 * 3600,
      },
      units: ['metric', 'Wh', '°C'],
      unitSpans: ['metric', 'Wh', '°C'].map((unit) => {
        const start = SAMPLE.indexOf(unit, SAMPLE.indexOf('units:'));
        return { start, end: start + unit.length };
      }),
      trials: 200,
      seed: 7,
    });
  });

  test('its cells: name, formula, bounds, note', () => {
    const shown = ofKind('cell').map(({ name, formula, bounds, note }) => [
      name.text,
      formula.text,
      bounds?.text,
      note?.text,
    ]);
    expect(shown).toEqual([
      ['panel rating', '160 W', '50 W..800 W by 10 W', 'printed on the back'],
      ['gauge', '4 mm²', '4 mm², 6 mm², 10 AWG', undefined],
      ['plug', '"a [b] -- c"', undefined, 'the note'],
      ['half', 'panel rating/2', undefined, undefined],
      [
        'store',
        'battery run(charging: harvest,\n                 load: load)',
        undefined,
        'two lines',
      ],
    ]);
  });

  test('its table: columns, rows, entries left out at the end', () => {
    const [table] = ofKind('table');
    expect(table?.note?.text).toBe('what hangs on it');
    expect(table?.columns.map(({ name, formula }) => [name.text, formula?.text])).toEqual([
      ['item', undefined],
      ['power', undefined],
      ['hours', undefined],
      ['energy', 'power × hours.length'],
    ]);
    expect(
      table?.rows.map(({ entries, note }) => [entries.map(({ text }) => text), note?.text]),
    ).toEqual([
      [['lamp', '6 W', '20:30..23:00', ''], 'the lamp'],
      [['cool box', '45 W', '00:00..24:00', '= 45 W × 8 h'], undefined],
      [['phones', ''], undefined],
    ]);
  });

  test('its checks, answer, chart and scenario', () => {
    expect(
      ofKind('check').map(({ must, formula, note }) => [must, formula.text, note?.text]),
    ).toEqual([
      [true, 'panel rating ≤ 200 W', 'or a fuse'],
      [false, 'half ≥ 50 W', undefined],
    ]);
    expect(ofKind('answer').map(({ name, formula }) => [name.text, formula.text])).toEqual([
      ['guess', 'panel rating / 2 ± 1 %'],
    ]);
    expect(ofKind('chart').map(({ body, note }) => [body.text, note?.text])).toEqual([
      ['half against panel rating = 50 W..200 W as line', 'caption'],
    ]);
    const [scenario] = ofKind('scenario');
    expect(scenario?.name.text).toBe('Grey');
    expect(scenario?.prose.map(({ text }) => text)).toEqual(['A low comes in.']);
    expect(
      scenario?.overrides.map(({ target, value, note }) => [target.text, value.text, note?.text]),
    ).toEqual([
      ['panel rating', 'panel rating / 2', undefined],
      ['loads.hours("lamp")', '20:00..24:00', 'longer'],
    ]);
  });
});

describe('what else is met in files', () => {
  const kinds = (text: string): readonly string[] =>
    readNotebook(text).items.map(({ kind }) => kind);
  const codes = (text: string): readonly string[] =>
    readNotebook(text).diagnostics.map(({ code }) => code);

  test('an empty text has no items and says what a notebook begins with', () => {
    expect(readNotebook('').items).toEqual([]);
    expect(codes('')).toEqual(['header-missing']);
  });

  test('lines without a header are still read', () => {
    expect(kinds('a = 1\n| prose')).toEqual(['cell', 'prose']);
    expect(codes('a = 1\n| prose')).toEqual(['header-missing']);
  });

  test('a byte order mark, carriage returns, tabs and non-breaking spaces change nothing', () => {
    const text =
      '\ufeffdapple 1\r\ntitle:\tHeat\r\n\r\na\u00a0b = 2\u00a0m\u00a0--\u00a0note\r\nt = table\r\n\tx | y\r\n\u00a01 | 2\r\n';
    const { header, items, diagnostics } = readNotebook(text);
    expect(diagnostics).toEqual([]);
    expect(header.title).toBe('Heat');
    expect(items.map(({ kind }) => kind)).toEqual(['cell', 'table']);
    expect(items[0]).toMatchObject({ formula: { text: '2\u00a0m' }, note: { text: 'note' } });
    expect(items[1]).toMatchObject({ rows: [{ entries: [{ text: '1' }, { text: '2' }] }] });
  });

  test('a newer version is said and still read', () => {
    expect(codes('dapple 2\n\na = 1\n')).toEqual(['version-newer']);
    expect(readNotebook('dapple 2\n\na = 1\n').header.version).toBe(2);
  });

  const headers: readonly (readonly [string, readonly string[]])[] = [
    ['trials: 0', ['trials-wrong']],
    ['trials: 10001', ['trials-wrong']],
    ['trials: 10000', []],
    ['seed: -1', ['seed-wrong']],
    ['colour: red', ['header-unknown']],
    ['title: a\ntitle: b', ['header-twice']],
    ['place: 44.5 °N, 110.2 °W', ['place-height', 'place-offset']],
    ['place: 44.5 °N, 110.2 °W, 10 m, UTC+5:30', []],
    ['place: 44.5 °N', ['place-incomplete']],
    ['place: 91 °N, 10 °E, 0 m, UTC', ['place-range']],
    ['place: 44.5 °N, 10 °E, 0 m, CET', ['place-wrong']],
  ];
  test.each(headers)('header %j gives %j', (lines, wanted) => {
    expect(codes(`dapple 1\n${lines}\n\n`)).toEqual(wanted);
  });

  test('UTC+5:30 is 19800 s, UTC−6 with a true minus is -21600 s', () => {
    const offset = (text: string): number | undefined =>
      readNotebook(`dapple 1\nplace: 0 °N, 0 °E, 0 m, ${text}\n`).header.place?.offset;
    expect(offset('UTC+5:30')).toBe(19_800);
    expect(offset('UTC−6')).toBe(-21_600);
    expect(offset('UTC')).toBe(0);
  });

  const lines: readonly (readonly [string, string, readonly string[]])[] = [
    ['a = 1 — note', 'cell', []],
    ['a = b - -c', 'cell', []],
    ['a =', 'cell', []],
    ['— remark', 'remark', []],
    ['   ', 'blank', []],
    ['  a = 1', 'unread', ['line-alone']],
    ['twice as long = 2', 'unread', ['name-joining']],
    ['check = 2', 'unread', ['line-word']],
    ['none = 2', 'unread', ['name-taken']],
    ['2 a = 2', 'unread', ['name-wrong']],
    ['= 2', 'unread', ['name-missing']],
    ['just words', 'unread', ['line-unread']],
    ['answer', 'unread', ['answer-shape']],
    ['check', 'check', ['check-empty']],
    ['scenario', 'scenario', ['scenario-name']],
    ['scenario A\n  words', 'scenario', ['scenario-line']],
    ['t = table', 'table', ['table-empty']],
    ['t = table\n  a | | c', 'table', ['column-name']],
    ['t = table\n  a | b\n  1 | 2 | 3', 'table', ['row-long']],
    ['t = table\n  a | b as c', 'table', ['name-joining']],
    ['checks = 2', 'cell', []],
    ['a = 1 -- one\n  and more of the note', 'cell', []],
  ];
  test.each(lines)('%j is a %s line with %j', (line, kind, wanted) => {
    const { items, diagnostics } = readNotebook(`dapple 1\n\n${line}\n`);
    expect(items.map((item) => item.kind)).toEqual([kind]);
    expect(diagnostics.map(({ code }) => code)).toEqual(wanted);
  });

  test('a joining word in a name is answered with the hyphenated spelling', () => {
    const [diagnostic] = readNotebook('dapple 1\n\ntwice as long = 2\n').diagnostics;
    expect(diagnostic?.fixes?.[0]?.text).toBe('twice-as-long');
  });

  test('an indented line below prose stands alone', () => {
    expect(kinds('dapple 1\n\n| prose\n  more')).toEqual(['prose', 'unread']);
  });
});

describe('line and column', () => {
  test('count from 1 and take \\r\\n as one end', () => {
    expect(lineAndColumn('ab\r\ncd\ne', 0)).toEqual({ line: 1, column: 1 });
    expect(lineAndColumn('ab\r\ncd\ne', 5)).toEqual({ line: 2, column: 2 });
    expect(lineAndColumn('ab\r\ncd\ne', 7)).toEqual({ line: 3, column: 1 });
    expect(lineAndColumn('', 5)).toEqual({ line: 1, column: 1 });
  });
});
