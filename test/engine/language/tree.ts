// For the language's tests: a tree without places and spellings, and random trees.

import fc from 'fast-check';
import type { BinaryOperator, ChainOperator, Node, Target } from '../../../engine/language/ast.ts';
import { nameKey } from '../../../engine/source/name.ts';

const nowhere = { start: 0, end: 0 };

/** The meaning of a tree: no places, no figures as written. */
export function meaning(node: Node): unknown {
  return JSON.parse(
    JSON.stringify(node, (key, value: unknown) =>
      key === 'span' || key === 'operatorSpan' || key === 'figures' ? undefined : value,
    ),
  );
}

const name = fc
  .constantFrom(
    'panel rating',
    'h',
    'x',
    "day's low",
    'T2-T1',
    'day 2',
    'share of time',
    'min',
    'A',
  )
  .map((text) => ({ text, key: nameKey(text), span: nowhere }));
const unit = fc
  .constantFrom('V', 'W/m²', '%', '°', 'min', 'h', 'K', 'W·s/m³/K', 'mm2', '1/K')
  .map((text) => ({ text, span: nowhere }));
const pointUnit = fc.constantFrom('°C', '°F', 'dBm').map((text) => ({ text, span: nowhere }));
const size = fc.oneof(
  fc.nat(1000),
  fc.double({ min: 0, max: 1e12, noNaN: true }).map((value) => Math.abs(value)),
);

const number = fc.oneof(
  size.map((value): Node => ({ kind: 'number', value, span: nowhere })),
  fc
    .tuple(size, unit)
    .map(([value, of]): Node => ({ kind: 'number', value, unit: of, span: nowhere })),
  fc
    .tuple(fc.integer({ min: -300, max: 300 }), pointUnit)
    .map(([value, of]): Node => ({ kind: 'number', value, unit: of, span: nowhere })),
);

const literal = fc.oneof(
  { weight: 4, arbitrary: number },
  fc.integer({ min: -3, max: 40 }).map((gauge): Node => ({ kind: 'gauge', gauge, span: nowhere })),
  fc
    .integer({ min: -700_000, max: 2_900_000 })
    .map((days): Node => ({ kind: 'moment', days, span: nowhere })),
  fc
    .tuple(fc.integer({ min: 0, max: 60_000 }), fc.integer({ min: 0, max: 1440 }))
    .map(([days, minutes]): Node => ({ kind: 'moment', days, minutes, span: nowhere })),
  fc
    .integer({ min: 0, max: 1440 })
    .map((minutes): Node => ({ kind: 'time of day', minutes, span: nowhere })),
  fc
    .constantFrom('cool box', '', 'a -- b', '12 % | [3]', 'said "so"')
    .map((value): Node => ({ kind: 'text', value, span: nowhere })),
  fc.constantFrom<Node>(
    { kind: 'pi', span: nowhere },
    { kind: 'none', span: nowhere },
    { kind: 'blank', span: nowhere },
  ),
  unit.map((of): Node => ({ kind: 'blank', unit: of, span: nowhere })),
);

const target = fc
  .tuple(name, fc.option(name, { nil: undefined }), fc.option(literal, { nil: undefined }))
  .map(
    ([of, column, entry]): Target => ({
      name: of,
      span: nowhere,
      ...(column === undefined ? {} : { column }),
      ...(entry === undefined ? {} : { entry }),
    }),
  );

const binaryOperator = fc.constantFrom<BinaryOperator>(
  '+',
  '-',
  '×',
  '/',
  '^',
  'and',
  'or',
  'within',
  '≠',
);
const chainOperator = fc.constantFrom<ChainOperator>('<', '≤', '=', '≥', '>');

/** Any tree the parser can yield, except broken ones. */
export const anyNode: fc.Arbitrary<Node> = fc.letrec<{ node: Node }>((tie) => ({
  node: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    { weight: 2, arbitrary: literal },
    { weight: 2, arbitrary: name.map((of): Node => ({ kind: 'name', name: of, span: nowhere })) },
    fc
      .tuple(tie('node'), name)
      .map(([of, part]): Node => ({ kind: 'part', of, name: part, span: nowhere })),
    fc
      .tuple(
        tie('node'),
        fc.array(fc.tuple(fc.option(name, { nil: undefined }), tie('node')), { maxLength: 3 }),
      )
      .map(
        ([callee, args]): Node => ({
          kind: 'call',
          callee,
          arguments: args.map(([label, value]) => ({
            value,
            span: nowhere,
            ...(label === undefined ? {} : { label }),
          })),
          span: nowhere,
        }),
      ),
    fc
      .tuple(fc.constantFrom<'-' | 'not'>('-', 'not'), tie('node'))
      .map(([operator, operand]): Node => ({ kind: 'unary', operator, operand, span: nowhere })),
    {
      weight: 4,
      arbitrary: fc.tuple(binaryOperator, tie('node'), tie('node')).map(
        ([operator, left, right]): Node => ({
          kind: 'binary',
          operator,
          operatorSpan: nowhere,
          left,
          right,
          span: nowhere,
        }),
      ),
    },
    fc
      .tuple(
        fc.array(fc.tuple(chainOperator, tie('node')), { minLength: 1, maxLength: 3 }),
        tie('node'),
      )
      .map(
        ([rest, first]): Node => ({
          kind: 'compare',
          operands: [first, ...rest.map(([, operand]) => operand)],
          operators: rest.map(([operator]) => operator),
          span: nowhere,
        }),
      ),
    fc
      .array(
        fc.oneof(
          number,
          tie('node').filter(({ kind }) => kind !== 'unary'),
        ),
        {
          minLength: 2,
          maxLength: 3,
        },
      )
      .map((parts): Node => ({ kind: 'range', parts, span: nowhere })),
    fc
      .tuple(tie('node'), tie('node'))
      .map(([centre, spread]): Node => ({ kind: 'tolerance', centre, spread, span: nowhere })),
    fc
      .tuple(tie('node'), unit)
      .map(([value, of]): Node => ({ kind: 'as', value, unit: of, span: nowhere })),
    fc.tuple(tie('node'), tie('node'), tie('node')).map(
      ([condition, then, otherwise]): Node => ({
        kind: 'if',
        condition,
        then,
        otherwise,
        span: nowhere,
      }),
    ),
    fc
      .tuple(tie('node'), fc.array(fc.tuple(target, tie('node')), { minLength: 1, maxLength: 2 }))
      .map(
        ([value, sets]): Node => ({
          kind: 'with',
          value,
          overrides: sets.map(([of, put]) => ({ target: of, value: put, span: nowhere })),
          span: nowhere,
        }),
      ),
  ),
})).node;
