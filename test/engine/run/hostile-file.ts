// Notebooks that no person would write, made up from a number: most formulas are of the right kind, so
// that they are worked and not only refused, with extreme amounts, deep what-ifs, odd names, and damage
// to the text. The same number always gives the same file.

import { Hand } from '../../tools/dice.ts';

type Kind =
  | 'power'
  | 'number'
  | 'time'
  | 'truth'
  | 'series'
  | 'truths'
  | 'warmth'
  | 'moment'
  | 'clock time'
  | 'hours'
  | 'column'
  | 'area'
  | 'level'
  | 'angle';

const KINDS: readonly Kind[] = [
  'power',
  'number',
  'time',
  'truth',
  'series',
  'truths',
  'warmth',
  'moment',
  'clock time',
  'hours',
  'column',
  'area',
  'level',
  'angle',
];

const NAMES = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'sun', 'prototype', 'toString', 'lamp 2'];
const LITERALS: Readonly<Record<Kind, readonly string[]>> = {
  power: ['2 W', '0 W', '-3 kW', '1e300 W', '1e-300 W', '-0 W', '40 W', '1e18 GW', '7.5 mW'],
  number: ['0', '1', '-1', '3', '1/3', '50 %', '1e300', '-1e-300', '2.5', '-7', '100 %', '1e9'],
  time: ['1 h', '0 s', '15 min', '1e9 d', '-3 h', '1e-9 s', '5 d'],
  truth: ['1 < 2', '2 W = 3 W', 'not (1 = 1)', '"x" = "y"'],
  series: ['s', '2 W × during(clock, 06:00..18:00)', 's × 2', '1 W × during(clock, 22:00..05:00)'],
  truths: ['s > 1 W', 'clock within 10:00..14:00', 'clock within 23:00..01:00'],
  warmth: ['20 °C', '-40 °F', '-300 °C', '1e5 °C', '0 °C'],
  moment: ['2027-05-14', '2027-05-14 06:30', '1970-01-01', '9999-12-31', '2027-05-15 13:00'],
  'clock time': ['00:00', '23:59', '12:00', '06:30'],
  hours: ['06:00..18:00', '21:00..06:00', '00:00..24:00', '12:00..12:00'],
  column: ['t.y', 't.y × 2', 't.y + 1 W', 't.z'],
  area: ['10 AWG', '6 mm²', '-1 mm²', '1e-9 mm²', '4/0 AWG', '1e9 m²'],
  level: ['-73 dBm', '0 dBm', '1e300 dBm', '-400 dBm'],
  angle: ['30°', '0°', '1e9°', '-90°', '0.5 rad', '360°'],
};

class Writer extends Hand {
  readonly cells: { readonly name: string; readonly kind: Kind }[] = [];

  /** A cell of this kind, or an amount where there is none. */
  leaf(kind: Kind): string {
    const known = this.cells.filter((cell) => cell.kind === kind);
    if (known.length > 0 && this.chance(0.7)) return this.pick(known).name;
    return this.pick(LITERALS[kind]);
  }

  write(wanted: Kind, depth: number): string {
    const kind = this.chance(0.02) ? this.pick(KINDS) : wanted;
    if (depth <= 0 || this.chance(0.15)) return this.leaf(kind);
    const of = (part: Kind): string => this.write(part, depth - 1);
    if (this.chance(0.12)) return `(if ${of('truth')} then ${of(kind)} else ${of(kind)})`;
    if (this.chance(0.14)) return `(${of(kind)} with ${this.changes(depth - 1)})`;
    switch (kind) {
      case 'power':
        return this.pick([
          () => `(${of('power')} ${this.pick(['+', '-'])} ${of('power')})`,
          () => `${of('power')} × ${of('number')}`,
          () => `${of('power')} / ${of('number')}`,
          () =>
            `${this.pick(['lowest', 'highest', 'mean', 'sum', 'last', 'first'])}(${of('series')})`,
          () => `${this.pick(['sum', 'lowest', 'mean'])}(${of('column')})`,
          () => `energy(${of('series')}, where: ${of('truths')}) / ${of('time')}`,
          () => `${this.pick(['min', 'max'])}(${of('power')}, ${of('power')})`,
          () => `sqrt(${of('power')} × ${of('power')})`,
          () => `percentile(${of('power')}, ${of('number')})`,
          () =>
            `${this.pick(['sum', 'lowest', 'mean'])}((${of('power')} with ${this.sweep(depth)}))`,
          () => `s(${of('moment')})`,
          () => `t.y(${of('number')})`,
          () => `round(${of('power')}, to: ${of('power')})`,
          () => `(${of('level')} as W)`,
          () =>
            `solve(${this.given('power')}, so that: ${of('power')} ${this.pick(['=', '≥', '≤'])} ${of('power')}, over: ${this.pick(['0 W..1 kW', '-1e300 W..1e300 W', '1 W..1 W', '5 W..2 W'])})`,
        ])();
      case 'number':
        return this.pick([
          () => `(${of('number')} ${this.pick(['+', '-', '×', '/'])} ${of('number')})`,
          () => `${of('power')} / ${of('power')}`,
          () => `(${of('number')})^${this.pick(['2', '0.5', '-1', '(-300)', '1000'])}`,
          () => `sqrt(${of('number')})`,
          () => `${this.pick(['ln', 'log10', 'exp', 'normal share'])}(${of('number')})`,
          () => `${this.pick(['sin', 'cos', 'tan'])}(${of('angle')})`,
          () => `count(${of('truths')})`,
          () => `chance(${of('truth')})`,
          () => `mean(during(clock, ${of('hours')}))`,
          () => `mean(beam share(open sky, sun position(clock)))`,
          () => `(${of('number')})^(${of('number')})`,
          () => `trip day(${of('moment')})`,
        ])();
      case 'time':
        return this.pick([
          () => `(${of('time')} ${this.pick(['+', '-'])} ${of('time')})`,
          () => `${of('time')} × ${of('number')}`,
          () => `(${of('moment')} - ${of('moment')})`,
          () => `time while(${of('truths')})`,
          () => `clock.step`,
          () => `(${of('clock time')} - ${of('clock time')})`,
        ])();
      case 'truth':
        return this.pick([
          () => `${of('power')} ${this.pick(['<', '≤', '>', '≥', '=', '≠'])} ${of('power')}`,
          () => `(${of('truth')} ${this.pick(['and', 'or'])} ${of('truth')})`,
          () => `(not (${of('truth')}))`,
          () => `${of('power')} within ${of('power')}..${of('power')}`,
          () => `${of('clock time')} within ${of('hours')}`,
          () => `${of('number')} within ${of('number')} ± ${of('number')}`,
        ])();
      case 'series':
        return this.pick([
          () => `(${of('series')} ${this.pick(['+', '-'])} ${of('series')})`,
          () => `${of('series')} × ${of('number')}`,
          () => `${of('power')} × during(clock, ${of('hours')})`,
          () => `running total(${of('series')} / 1 h × ${of('time')}, least: ${of('power')}) `,
          () => `previous(${of('series')}, first: ${of('power')})`,
          () => `load profile(power: t.y, hours: t.h, at: clock)`,
          () => `(if ${of('truths')} then ${of('series')} else ${of('power')})`,
          () => `${this.pick(['min', 'max'])}(${of('series')}, ${of('power')})`,
          () => `t.y(trip day(clock))`,
          () =>
            `${of('power')} × drawn sky(clock, wet days: ${of('number')}, wet spell: ${of('number')})`,
          () => `clear sky(sun position(clock)).global × 1 m²`,
        ])();
      case 'truths':
        return this.pick([
          () => `${of('series')} ${this.pick(['<', '≥'])} ${of('power')}`,
          () => `clock within ${of('hours')}`,
          () => `(${of('truths')} and ${of('truth')})`,
        ])();
      case 'warmth':
        return this.pick([
          () => `(${of('warmth')} + ${this.pick(['5 K', '-1e300 K', '9 K'])} × ${of('number')})`,
          () => `min(${of('warmth')}, ${of('warmth')})`,
        ])();
      case 'moment':
        return this.pick([
          () => `(${of('moment')} + ${of('time')})`,
          () => `at ${this.pick(['lowest', 'highest'])}(${of('series')})`,
          () => `first moment(${of('truths')})`,
          () => `clock.${this.pick(['start', 'end'])}`,
          () => `${this.pick(['sunrise', 'sunset'])}(on: ${of('moment')})`,
        ])();
      case 'clock time':
        return this.pick([
          () => `(${of('clock time')} ${this.pick(['+', '-'])} ${of('time')})`,
          () => `time of day(${of('moment')})`,
        ])();
      case 'hours':
        return `${of('clock time')}..${of('clock time')}`;
      case 'column':
        return this.pick([
          () => `${of('column')} × ${of('number')}`,
          () => `(${of('column')} + ${of('power')})`,
          () => `running total(${of('column')})`,
        ])();
      case 'area':
        return this.pick([
          () => `${of('area')} × ${of('number')}`,
          () => `next wire(${of('area')})`,
          () => `max(${of('area')}, ${of('area')})`,
        ])();
      case 'level':
        return this.pick([
          () => `(${of('power')} as dBm)`,
          () => `(${of('level')} + ${this.pick(['6 dB', '-1e300 dB'])})`,
          () => `noise level(environment: "city", frequency: 7 MHz, bandwidth: 2.4 kHz)`,
        ])();
      case 'angle':
        return this.pick([
          () => `${of('angle')} × ${of('number')}`,
          () => `${this.pick(['arcsin', 'arccos', 'arctan'])}(${of('number')})`,
          () => `highest(sun position(clock).elevation)`,
        ])();
    }
  }

  given(kind: Kind): string {
    const known = this.cells.filter((cell) => cell.kind === kind);
    return known.length > 0 ? this.pick(known).name : 'a';
  }

  changes(depth: number): string {
    const count = 1 + this.whole(2);
    return Array.from({ length: count }, () => this.change(depth)).join(', ');
  }

  change(depth: number): string {
    if (this.chance(0.1))
      return `t.y(${this.pick(['1', '2', '9'])}) = ${this.write('power', depth)}`;
    if (this.chance(0.05)) return `t.y = ${this.pick(['none', 't.y × 2', '1 W'])}`;
    const cell =
      this.cells.length > 0 ? this.pick(this.cells) : { name: 'a', kind: 'power' as Kind };
    return `${cell.name} = ${this.write(cell.kind, depth)}`;
  }

  sweep(depth: number): string {
    const count = this.pick([3, 10, 100, 1000, 10_000, 1e9]);
    const first = `${this.given('power')} = steps(1 W, ${count} W, by: 1 W)`;
    return this.chance(0.3) ? `${first}, ${this.change(depth)}` : first;
  }
}

const PLACE = 'place: 44.5 °N, 110.2 °W, 2100 m, UTC-6';

export function hostileFile(seed: number): string {
  const w = new Writer(seed);
  const lines = ['dapple 1'];
  if (w.chance(0.8)) lines.push(PLACE);
  lines.push(`trials: ${w.pick([5, 20, 200, 1000, 10_000])}`, `seed: ${w.whole(99)}`, '');
  const until = w.pick(['2027-05-16', '2027-05-15', '2028-05-14', '2027-05-13', '9999-01-01']);
  const by = w.pick(['6 h', '1 h', '15 min', '1 min', '7 min', '1 d', '0 s']);
  const body = [
    `clock = timeline(from: 2027-05-14, until: ${until}, by: ${by})`,
    `s = ${w.pick(['2 W', '1e300 W', '0 W'])} × during(clock, 06:00..18:00)`,
  ];
  const names = [...NAMES];
  const count = 3 + w.whole(7);
  for (let i = 0; i < count; i++) {
    const name = names.splice(w.whole(names.length), 1)[0] ?? 'a';
    const kind = w.chance(0.35) ? 'power' : w.pick(KINDS);
    // Some name what comes later, and so may close a circle.
    const isEarly = w.chance(0.3);
    if (isEarly) w.cells.push({ name, kind });
    const formula = w.chance(0.25)
      ? kind === 'power'
        ? w.pick(['40..55..70 W', '5 W ± 20 %', 'between(0 W, 3 W)', '12 W', '? W', '3 W [1..5 W]'])
        : w.pick(LITERALS[kind])
      : w.write(kind, 1 + w.whole(4));
    if (!isEarly) w.cells.push({ name, kind });
    body.push(`${name} = ${formula}`);
  }
  if (w.chance(0.8))
    body.push(
      `t = table\n  x | y${w.chance(0.2) ? ` = ${w.write('power', 2)}` : ''} | z = ${w.chance(0.3) ? w.write('power', 2) : 'y × 2'} | h\n  1 | ${w.pick(['2 W', '', '10..20..30 W', '= a'])} | | 06:00..18:00\n  2 | ${w.pick(['3 W', '5 W ± 1 W', '1e300 W'])} | | 21:00..06:00\n  9 | ${w.pick(['', '1 W'])} | ${w.pick(['', '7 W'])} | 10:00..10:00`,
    );
  for (let i = w.whole(3); i > 0; i--)
    body.push(`${w.pick(['check', 'must'])} ${w.write('truth', 3)}`);
  for (let i = w.whole(3); i > 0; i--)
    body.push(
      `scenario S${i}\n${Array.from({ length: 1 + w.whole(3) }, () => `  ${w.change(2)}`).join('\n')}`,
    );
  if (w.chance(0.3))
    body.push(
      `chart ${w.given('power')}${w.chance(0.5) ? ` against ${w.given('power')} = 1 W..9 W` : ''}`,
    );
  if (w.chance(0.2)) body.push(`answer a = ${w.write('power', 2)}`);
  // In any order.
  for (let i = body.length - 1; i > 0; i--) {
    const k = w.whole(i + 1);
    [body[i], body[k]] = [body[k] as string, body[i] as string];
  }
  let text = [...lines, ...body].join('\n');
  if (w.chance(0.2)) text = damaged(text, w);
  return text;
}

function damaged(text: string, w: Writer): string {
  const at = w.whole(text.length);
  const length = w.whole(12);
  const piece = w.pick([
    '',
    '(',
    '"',
    ' = ',
    '..',
    '\u0000',
    'é',
    ' with ',
    '\n',
    '\n  ',
    '|',
    'e',
    '²',
  ]);
  if (w.chance(0.3)) return text.slice(0, at) + text.slice(at, at + 200) + text.slice(at);
  return text.slice(0, at) + piece + text.slice(at + length);
}
