// What the parser promises whatever it is given, and the smaller doors: entries, bounds, charts,
// targets. The readings are those of the language's own definition.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isPointUnit, isUnit } from '../../../engine/dimension/unit.ts';
import type { Node } from '../../../engine/language/ast.ts';
import {
  DEPTH_LIMIT,
  LENGTH_LIMIT,
  nameKey,
  parseBounds,
  parseChart,
  parseEntry,
  parseFormula,
  parseTarget,
  tokenize,
} from '../../../engine/language/parser.ts';
import { printFormula, printTarget } from '../../../engine/language/printer.ts';
import { walk } from '../../../engine/language/walk.ts';
import type { Diagnostic } from '../../../engine/source/diagnostic.ts';
import type { Span } from '../../../engine/source/span.ts';
import { testCases } from '../../tools/test-cases.ts';

const units = { isUnit, isPointUnit };
const print = (node: Node | undefined): string =>
  node === undefined ? 'nothing' : printFormula(node, units);
const codes = (diagnostics: readonly Diagnostic[]): readonly string[] =>
  diagnostics.map(({ code }) => code);

/** Text such as people type: pieces of the language in any order. */
const soup = fc
  .array(
    fc.constantFrom(
      ...['a', 'panel rating', ' ', '  ', '\n', '(', ')', ',', '..', '…', '±', '²', '^', '-', '−'],
      ...['12', '.5', '1e3', 'W/m²', '°C', '%', '12 V', '4/0 AWG', '07:30', '2027-05-14', '"', '“'],
      ...['if', 'then', 'else', 'with', ' as ', 'within', 'not', 'and', '=', '≠', '<=', '.', ':'],
      ...['?', '[', ']', '--', '—', '\u200f', '🙂', '\ud800', 'by: ', 'none', 'π', '/', '·', "'"],
    ),
    { maxLength: 30 },
  )
  .map((pieces) => pieces.join(''));
const anyText = fc.oneof(soup, fc.string({ unit: 'binary', maxLength: 60 }));

function expectInside({ start, end }: Span, from: number, to: number): void {
  expect(start).toBeGreaterThanOrEqual(from);
  expect(end).toBeGreaterThanOrEqual(start);
  expect(end).toBeLessThanOrEqual(to);
}

describe('any text', () => {
  test('is read without an exception, and every place lies inside it', () => {
    fc.assert(
      fc.property(anyText, fc.nat(1000), (text, offset) => {
        const { node, diagnostics } = parseFormula(text, { ...units, offset });
        const end = offset + text.length;
        walk(node, (inner) => {
          expectInside(inner.span, offset, end);
          if (inner.kind === 'name') {
            const { start, end: nameEnd } = inner.name.span;
            expect(text.slice(start - offset, nameEnd - offset)).toBe(inner.name.text);
          }
          if (inner.kind === 'broken') expect(diagnostics).not.toEqual([]);
        });
        for (const { span, fixes, text: sentence } of diagnostics) {
          expectInside(span, offset, end);
          expect(sentence).toMatch(/[.)]$/u);
          for (const fix of fixes ?? []) expectInside(fix.span, offset, end);
        }
      }),
      { numRuns: testCases(3000) },
    );
  });

  test('that has no message is printed as a text that reads the same', () => {
    fc.assert(
      fc.property(soup, (text) => {
        const { node, diagnostics } = parseFormula(text, units);
        fc.pre(diagnostics.length === 0);
        const printed = print(node);
        const again = parseFormula(printed, units);
        expect(again.diagnostics, `${text} → ${printed}`).toEqual([]);
        expect(print(again.node)).toBe(printed);
      }),
      { numRuns: testCases(300) },
    );
  });

  test('is read by the smaller doors without an exception', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(parseTarget(text, units).diagnostics).toBeInstanceOf(Array);
        expect(parseEntry(text, units).diagnostics).toBeInstanceOf(Array);
        const { bounds, diagnostics } = parseBounds(text, units);
        expect(bounds === undefined).toBe(diagnostics.length > 0);
        const chart = parseChart(text, units);
        if (chart.diagnostics.length === 0) expect(chart.items).not.toEqual([]);
      }),
      { numRuns: testCases(1000) },
    );
  });

  test('is cut into tokens that follow each other and leave out only spaces', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        let at = 0;
        for (const { span } of tokenize(text, units)) {
          expect(text.slice(at, span.start).trim()).toBe('');
          expect(span.end).toBeGreaterThan(span.start);
          at = span.end;
        }
        expect(text.slice(at).trim()).toBe('');
      }),
      { numRuns: testCases(1000) },
    );
  });
});

describe('limits are answered with a message', () => {
  const tooDeep: readonly (readonly [string, string])[] = [
    ['ten thousand parentheses', '('.repeat(10_000)],
    ['closed parentheses', `${'('.repeat(9_000)}1${')'.repeat(9_000)}`],
    ['minus signs', `${'-'.repeat(9_999)}1`],
    ['a tower of powers', `2${'^2'.repeat(9_000)}`],
    ['calls', 'f('.repeat(6_000)],
    ['not', `${'not '.repeat(4_000)}a`],
    ['conditions', `${'if a then b else '.repeat(1_000)}c`],
  ];
  test.each(tooDeep)('%s', (_, text) => {
    expect(codes(parseFormula(text, units).diagnostics)).toEqual(['formula-deep']);
  });

  test('more terms in a row than a tree may be deep', () => {
    const terms = (count: number): string => `1${' + 1'.repeat(count - 1)}`;
    expect(codes(parseFormula(terms(DEPTH_LIMIT), units).diagnostics)).toEqual([]);
    expect(codes(parseFormula(terms(DEPTH_LIMIT + 1), units).diagnostics)).toEqual([
      'formula-terms',
    ]);
  });

  test('two hundred parentheses are read, one more is not', () => {
    const nested = (count: number): string => `${'('.repeat(count)}1${')'.repeat(count)}`;
    expect(print(parseFormula(nested(200), units).node)).toBe('1');
    expect(codes(parseFormula(nested(201), units).diagnostics)).toEqual(['formula-deep']);
  });

  test('a longer text than a formula may be', () => {
    const text = 'a'.repeat(LENGTH_LIMIT + 1);
    expect(codes(parseFormula(text, units).diagnostics)).toEqual(['formula-long']);
    expect(codes(parseFormula(text.slice(1), units).diagnostics)).toEqual([]);
  });
});

describe('mistakes not among the doubtful cases', () => {
  const mistakes: readonly (readonly [string, string, number])[] = [
    ['', 'formula-empty', 0],
    ['   ', 'formula-empty', 0],
    ['x as V × 2', 'as-ends', 7],
    ['energy as W-h', 'as-ends', 11],
    ['x as', 'as-unit-missing', 4],
    ['x as parsec', 'as-unit-unknown', 5],
    ['x ±  2 .. 3', 'range-mixed', 7],
    ['1..2..3..4', 'range-many', 9],
    ['x ²', 'power-space', 2],
    ['5 V.low', 'part-of', 3],
    ['"a".low', 'part-of', 3],
    ['a.', 'part-missing', 2],
    ['a...b', 'range-dots', 1],
    ['25:00', 'time-wrong', 0],
    ['07:61', 'time-wrong', 0],
    ['07:30:15', 'time-seconds', 0],
    ['2027-02-29', 'date-wrong', 0],
    ['2027-5-14', 'date-digits', 0],
    ['steps(5,10)', 'decimal-comma', 7],
    ['5 W-h', 'unit-hyphen', 2],
    ['a – b', 'dash-long', 2],
    ['a \u200f+ b', 'character-invisible', 2],
    ['battery  usable', 'name-spaces', 9],
    ['if a else b', 'then-missing', 5],
    ['if a then b', 'else-missing', 11],
    ['x with 3 = 4', 'target-missing', 7],
    ['x with a', 'target-equals', 8],
    ['x with a(b) = 3', 'target-entry', 9],
    ['(so that: 3)', 'label-place', 1],
    ['x [1..2', 'bounds-place', 2],
    ['1e999', 'number-huge', 0],
    ['x = not y', 'begins-inside', 4],
  ];
  test.each(mistakes)('%j is %s at %i', (text, code, start) => {
    const { diagnostics } = parseFormula(text, units);
    expect(diagnostics.map(({ code: found, span }) => [found, span.start])).toEqual([
      [code, start],
    ]);
  });

  test('2028-02-29 is a day and 2100-02-29 is not (Gregorian rule, ISO 8601)', () => {
    expect(parseFormula('2028-02-29', units).diagnostics).toEqual([]);
    expect(codes(parseFormula('2100-02-29', units).diagnostics)).toEqual(['date-wrong']);
  });

  test('2000-03-01 is day 11017 from 1970-01-01 (30 years of 365, 7 leap days, 31 + 29 days)', () => {
    const { node } = parseFormula('2000-03-01', units);
    expect(node).toMatchObject({ kind: 'moment', days: 30 * 365 + 7 + 31 + 29 });
  });

  test('24:00 is the end of the day', () => {
    expect(parseFormula('24:00', units).node).toMatchObject({ minutes: 1440 });
    expect(codes(parseFormula('24:01', units).diagnostics)).toEqual(['time-wrong']);
  });
});

describe('what phones type', () => {
  const typed: readonly (readonly [string, string])[] = [
    ['“separate”', '"separate"'],
    ['10…30 V', '10..30 V'],
    ['a − b', 'a - b'],
    ['320\u00a0W ± 5\u00a0%', '320 W ± 5 %'],
    ['If a Then b Else c', 'if a then b else c'],
    ['day’s low', 'day’s low'],
  ];
  test.each(typed)('%s reads as %s', (text, reads) => {
    const { node, diagnostics } = parseFormula(text, units);
    expect(diagnostics).toEqual([]);
    expect(print(node)).toBe(reads);
  });

  test('the form of the apostrophe and the case of letters do not matter for matching', () => {
    expect(nameKey('Day’s  Low')).toBe(nameKey("day's low"));
  });
});

describe('a sign before a number', () => {
  test('belongs to it on a point scale only', () => {
    expect(parseFormula('-40 °F', units).node).toMatchObject({ kind: 'number', value: -40 });
    expect(parseFormula('-40 W', units).node).toMatchObject({ kind: 'unary' });
    expect(parseFormula('- 40 °F', units).node).toMatchObject({ kind: 'unary' });
    expect(parseFormula('-5..5 °C', units).node).toMatchObject({
      parts: [
        { kind: 'number', value: -5 },
        { kind: 'number', value: 5 },
      ],
    });
  });
});

describe('a wire gauge', () => {
  const gauges: readonly (readonly [string, number])[] = [
    ['10 AWG', 10],
    ['1/0 AWG', 0],
    ['4/0 AWG', -3],
  ];
  test.each(gauges)('%s is gauge %i (ASTM B258 counts 1/0 as 0 and 4/0 as -3)', (text, gauge) => {
    expect(parseFormula(text, units).node).toMatchObject({ kind: 'gauge', gauge });
  });
});

describe('a table entry', () => {
  const entries: readonly (readonly [string, string, string])[] = [
    ['', 'none', 'none'],
    ['cool box', 'text', '"cool box"'],
    ['barrel 8 mm', 'text', '"barrel 8 mm"'],
    ['2 panels', 'text', '"2 panels"'],
    ['40..46..55 W', 'range', '40..46..55 W'],
    ['100 % ± 3 %', 'tolerance', '100 % ± 3 %'],
    ['-20 °C', 'number', '-20 °C'],
    ['-20 W', 'unary', '-20 W'],
    ['17:00..21:00', 'range', '17:00..21:00'],
    ['2027-05-14 12:00', 'moment', '2027-05-14 12:00'],
    ['"quoted | bar"', 'text', '"quoted | bar"'],
    ['? A', 'blank', '? A'],
    ['= power × 2', 'binary', 'power × 2'],
    ['power × 2', 'text', '"power × 2"'],
  ];
  test.each(entries)('%j is a %s: %s', (text, kind, printed) => {
    const { node, diagnostics } = parseEntry(text, units);
    expect(diagnostics).toEqual([]);
    expect(node.kind).toBe(kind);
    expect(print(node)).toBe(printed);
  });

  test('a slip in a number, a date or a quote is a message, not words', () => {
    expect(codes(parseEntry('12,5 V', units).diagnostics)).toEqual(['decimal-comma']);
    expect(codes(parseEntry('2027-02-30', units).diagnostics)).toEqual(['date-wrong']);
    expect(codes(parseEntry('"open', units).diagnostics)).toEqual(['text-unclosed']);
  });

  test('words are marked as words', () => {
    expect(parseEntry('cool box', units).words).toBe(true);
    expect(parseEntry('"cool box"', units).words).toBeUndefined();
  });
});

describe('bounds', () => {
  test('a low and a high end, and a step', () => {
    const { bounds } = parseBounds('10..30 V by 5 V', units);
    expect(bounds?.kind).toBe('range');
    if (bounds?.kind !== 'range') return;
    expect([bounds.low, bounds.high, bounds.step].map(print)).toEqual(['10', '30 V', '5 V']);
  });

  test('choices of any kind', () => {
    const choices = (text: string): readonly string[] => {
      const { bounds } = parseBounds(text, units);
      return bounds?.kind === 'choices' ? bounds.choices.map(print) : ['no choices'];
    };
    expect(choices('4 mm², 6 mm², 10 AWG')).toEqual(['4 mm²', '6 mm²', '10 AWG']);
    expect(choices('"yes", "no"')).toEqual(['"yes"', '"no"']);
    expect(choices('06:00..10:00, 08:00..12:00')).toEqual(['06:00..10:00', '08:00..12:00']);
  });

  const wrong: readonly (readonly [string, string])[] = [
    ['', 'bounds-empty'],
    ['low..high', 'bounds-plain'],
    ['1..2..3', 'bounds-three'],
    ['5 V by 1 V', 'bounds-step'],
    ['1..2 by step', 'bounds-plain'],
  ];
  test.each(wrong)('%j is %s', (text, code) => {
    expect(codes(parseBounds(text, units).diagnostics)).toEqual([code]);
  });
});

describe('a chart line', () => {
  const shown = (text: string): readonly string[] => {
    const chart = parseChart(text, units);
    expect(chart.diagnostics).toEqual([]);
    const against = chart.against.map((one) =>
      'item' in one ? print(one.item) : `${printTarget(one.given, units)} = ${print(one.values)}`,
    );
    return [chart.items.map(print).join(' | '), against.join(' | '), chart.as ?? ''];
  };
  const charts: readonly (readonly [string, string, string, string])[] = [
    ['charge, harvest, load', 'charge | harvest | load', '', ''],
    ['charge as bands', 'charge', '', 'bands'],
    ['sun.elevation', 'sun.elevation', '', ''],
    ['a against b as dots', 'a', 'b', 'dots'],
    [
      'lowest charge against label energy = 300 Wh..3000 Wh, day harvest = 200 Wh..900 Wh',
      'lowest charge',
      'label energy = 300 Wh..3000 Wh | day harvest = 200 Wh..900 Wh',
      '',
    ],
    ['a against b = steps(1 m, 2 m, by: 1 m) as line', 'a', 'b = steps(1 m, 2 m, by: 1 m)', 'line'],
    ['(p as mW) as bars', 'p as mW', '', 'bars'],
    ['(a with b = 1), c as list', 'a with b = 1 | c', '', 'list'],
  ];
  test.each(charts)('%s', (text, items, against, kind) => {
    expect(shown(text)).toEqual([items, against, kind]);
  });

  test('without items or kind it has a message', () => {
    expect(codes(parseChart('', units).diagnostics)).toEqual(['chart-empty']);
    expect(codes(parseChart('a as', units).diagnostics)).toEqual(['chart-kind']);
    expect(codes(parseChart('a with b = 1', units).diagnostics)).toEqual(['with-chart']);
  });
});

describe('the target of an override', () => {
  test.each(['tilt', 'weather.high', 'loads.hours("lamp")', 'weather.clear index(3)'])(
    '%s',
    (text) => {
      const { target, diagnostics } = parseTarget(text, units);
      expect(diagnostics).toEqual([]);
      expect(target === undefined ? '' : printTarget(target, units)).toBe(text);
    },
  );

  test('anything else is none', () => {
    expect(parseTarget('2 × a', units).target).toBeUndefined();
    expect(parseTarget('a + b', units).target).toBeUndefined();
    expect(parseTarget('a(b)', units).target).toBeUndefined();
  });
});

describe('tokens for colouring', () => {
  test('kinds of an ordinary formula', () => {
    const text = 'if x within 11:30..15:00 then sum(a, so that: 5 W) as Wh else "b" ~';
    const kinds = tokenize(text, units).map(
      ({ kind, span }) => `${text.slice(span.start, span.end)}:${kind}`,
    );
    expect(kinds).toEqual([
      ...['if:word', 'x:name', 'within:word', '11:30:moment', '..:operator', '15:00:moment'],
      ...['then:word', 'sum:name', '(:punctuation', 'a:name', ',:punctuation', 'so that:name'],
      ...['::punctuation', '5:number', 'W:unit', '):punctuation', 'as:word', 'Wh:unit'],
      ...['else:word', '"b":text', '~:bad'],
    ]);
  });
});
