// Small notebooks woven from a number: every function and every form of the language, most of it of
// the right kind and some not, cells in any order, names in many scripts, tables with absent entries,
// scenarios, checks and charts. Small axes and few trials, so that a hundred thousand can be tried.

import { Hand } from '../../tools/dice.ts';
import {
  type AxisName,
  CHOICES,
  KINDS,
  type Kind,
  LITERALS,
  RULES,
  SERIES,
} from './woven-rules.ts';

interface Rule {
  readonly axis: AxisName | '@';
  readonly template: string;
}

const rules = new Map<Kind, Rule[]>();
for (const line of RULES) {
  const [, kind = '', at = '', axis = '', template = ''] =
    /^([a-z ]+?)(@?)(\w*) = (.*)$/u.exec(line) ?? [];
  const list = rules.get(kind as Kind) ?? [];
  list.push({ axis: at === '' ? '' : axis === '' ? '@' : (axis as AxisName), template });
  rules.set(kind as Kind, list);
}

export const NAMES = [
  ...['a', 'b', 'cable drop', 'day 2', "day's low", 'T2-T1', 'h', 'W', 'min', 'sum', 'lamp 2'],
  ...[
    'constructor',
    'prototype',
    'toString',
    'größe',
    'Straße',
    'İstanbul',
    'naïve',
    'nai\u0308ve',
  ],
  ...['Ω load', '電力', 'طاقة', 'כוח 2', 'ſolar', 'K', '\u212a', 'e1', 'x_y', 'first', 'table top'],
  ...['plan', 'result', 'x', 'y', 'of', 'by', 'cell', 'steps'],
];
/** Names that every notebook here has of its own. */
const FIXED: readonly { readonly name: string; readonly kind: Kind; readonly axis: AxisName }[] = [
  { name: 's', kind: 'power', axis: 'clock' },
  { name: 'p', kind: 'power', axis: '' },
  { name: 'n', kind: 'number', axis: '' },
];

interface Cell {
  readonly name: string;
  readonly kind: Kind;
  readonly axis: AxisName;
  readonly given: boolean;
}

export class Weaver extends Hand {
  readonly cells: Cell[] = FIXED.map((cell) => ({ ...cell, given: cell.axis === '' }));
  /** How often something of the wrong kind is put in. */
  wrong = 0.01;

  leaf(kind: Kind, axis: AxisName): string {
    const known = this.cells.filter((cell) => cell.kind === kind && cell.axis === axis);
    if (known.length > 0 && this.chance(0.6)) return this.pick(known).name;
    const series = SERIES[`${kind}@${axis}`];
    return this.pick(series ?? LITERALS[kind]);
  }

  write(wanted: Kind, axis: AxisName, depth: number): string {
    const kind = this.chance(this.wrong) ? this.pick(KINDS) : wanted;
    if (depth <= 0 || this.chance(0.12)) return this.leaf(kind, axis);
    const fitting = (rules.get(kind) ?? []).filter(
      (rule) => rule.axis === '@' || rule.axis === axis,
    );
    if (fitting.length === 0) return this.leaf(kind, axis);
    return this.filled(this.pick(fitting).template, axis, depth - 1);
  }

  filled(template: string, axis: AxisName, depth: number): string {
    return template.replace(
      /\{([a-z ]+)(@?)(\w*)\}/gu,
      (_, what: string, at: string, on: string) => {
        const choices = CHOICES[what];
        if (choices) return this.pick(choices);
        if (what === 'change') return this.change(depth);
        if (what === 'sweep') return this.sweep(depth);
        if (what.startsWith('given ')) return this.given(what.slice(6) as Kind);
        const own = at === '' ? '' : on === '' ? (this.chance(0.3) ? '' : axis) : (on as AxisName);
        return this.write(what as Kind, own, depth);
      },
    );
  }

  given(kind: Kind): string {
    const known = this.cells.filter((cell) => cell.kind === kind && cell.given);
    return known.length > 0 && this.chance(0.95) ? this.pick(known).name : 'p';
  }

  target(depth: number): string {
    const cell = this.pick(this.cells);
    const place = this.next();
    if (place < 0.08)
      return `t.y(${this.pick(['"lamp"', '"fan"', '"none such"'])}) = ${this.write('power', '', depth)}`;
    if (place < 0.12)
      return `t.y = ${this.pick(['none', 't.y × 2', '1 W', 't.y + p', '1..2..4 W'])}`;
    if (place < 0.14) return `t.h("lamp") = ${this.write('hours', '', depth)}`;
    if (place < 0.16) return `log.charge = none`;
    if (place < 0.2) return `${cell.name} = ${this.pick(['none', '5 W ± 10 %', '1..2..3', '?'])}`;
    return `${cell.name} = ${this.write(cell.kind, this.chance(0.1) ? cell.axis : '', depth)}`;
  }

  change(depth: number): string {
    const first = this.target(Math.min(1, depth));
    return this.chance(0.2) ? `${first}, ${this.target(0)}` : first;
  }

  sweep(depth: number): string {
    const [name, values] = this.pick([
      ['p', 'steps(1 W, 3 W, by: 1 W)'],
      ['n', 'steps(1, 4, by: 1)'],
      ['n', 'steps(0, 2, 5)'],
      ['p', 'steps(5 W, 1 W, by: -2 W)'],
      ['until', 'steps(2027-05-15, 2027-05-17, by: 1 d)'],
    ]);
    const sweep = `${name} = ${values}`;
    return this.chance(0.15) ? `${sweep}, ${this.target(Math.min(1, depth))}` : sweep;
  }

  /** A cell with a name of its own. */
  cell(names: string[]): string {
    const name = names.splice(this.whole(names.length), 1)[0] ?? 'z';
    const kind = this.chance(0.3) ? this.pick(['power', 'number'] as const) : this.pick(KINDS);
    const axis = this.pick<AxisName>(['', '', '', 'clock', 'clock', 'day', 'rows', 'steps']);
    const isGiven = axis === '' && this.chance(0.3);
    // Some name what comes later, and so may close a circle.
    const isEarly = this.chance(0.12);
    const cell = { name, kind, axis, given: isGiven };
    if (isEarly) this.cells.push(cell);
    const formula = isGiven ? this.literal(kind) : this.write(kind, axis, 1 + this.whole(3));
    if (!isEarly) this.cells.push(cell);
    const note = this.chance(0.1) ? ` -- ${this.pick(['said', '(', '"', 'x -- y', '\u202e'])}` : '';
    const equals = this.pick([' = ', ' = ', '=', '   =  ']);
    return `${name}${equals}${formula}${note}`;
  }

  literal(kind: Kind): string {
    if (kind === 'power' && this.chance(0.5))
      return this.pick([
        '40..55..70 W',
        '5 W ± 20 %',
        '60 W ± 5 W',
        'between(0 W, 3 W)',
        'usual(1 W, 2 W, 4 W)',
        '? W',
        '3 W [1..5 W]',
        '3 W [1 W..5 W by 1 W]',
        '9 W [1..5 W]',
      ]);
    if (kind === 'number' && this.chance(0.4))
      return this.pick([
        '40..50..60 %',
        '?',
        '2 [1, 2, 3]',
        '50 % ± 5 %',
        'between(1, 2)',
        '4 ± 1',
      ]);
    if (this.chance(0.06)) return '?';
    return this.pick(LITERALS[kind]);
  }

  table(): string {
    const entry = (list: readonly string[]): string => this.pick(list);
    const power = ['2 W', '3 W', '', '', '10..20..30 W', '= p', '5 W ± 1 W', '1e300 W', 'none'];
    const z = this.chance(0.4)
      ? this.write('power', '', 1)
      : this.pick(['y × 2', 'y × n', 'y + p']);
    return [
      't = table',
      `  x | y | n${this.chance(0.15) ? ` = ${this.write('number', '', 1)}` : ''} | z = ${z} | h`,
      `  lamp | ${entry(power)} | ${entry(['1', '', '2'])} | | 06:00..18:00`,
      `  fan | ${entry(power)} | ${entry(['0', '5', '1..2..3'])} | ${entry(['', '7 W'])} | 21:00..06:00`,
      `  cool box | ${entry(power)} | 3 | | ${entry(['10:00..10:00', '23:00..01:00', ''])}`,
    ].join('\n');
  }

  trees(): string {
    const through = this.chance(0.5) ? '0 %' : '';
    return `trees = table\n  azimuth | height | through\n  0° | 10° | 10 %\n  ${this.pick(['120°', '90°'])} | 30° | ${through}\n  ${this.pick(['240°', '359°', '200°'])} | ${this.pick(['5°', '89°', '0°', '20°', '20°', '95°'])} | 5 %`;
  }

  log(): string {
    const charge = (): string => this.pick(['80 %', '', '40 %', '100 %', '0 %', '120 %']);
    return `log = table\n  when | charge\n  2027-05-14 06:00 | ${charge()}\n  ${this.pick(['2027-05-14 18:00', '2027-05-30', ...(this.chance(0.1) ? ['2027-05-14 06:00'] : [])])} | ${charge()}`;
  }

  place(): string {
    return `place: ${this.pick(['44.5 °N, 110.2 °W, 2100 m, UTC-6', '69 °N, 20 °E, 10 m, UTC+1', '0 °N, 0 °E, 0 m, UTC', '90 °S, 0 °E, 2800 m, UTC+13:45'])}`;
  }

  /** What the rules draw on, by its name. */
  frame(): ReadonlyMap<string, string> {
    const by = this.pick([
      '6 h',
      '3 h',
      '12 h',
      '1 d',
      '2 h',
      ...(this.chance(0.1) ? ['7 min'] : []),
    ]);
    const frame = new Map([
      [
        'until',
        `until = ${this.pick(['2027-05-15', '2027-05-16', '2027-05-16', '2027-05-16 12:00', '2027-05-18', ...(this.chance(0.1) ? ['2027-05-13'] : [])])}`,
      ],
      [
        'clock',
        `clock = timeline(from: ${this.pick(['2027-05-14', '2027-05-14 05:30', '2027-05-14 22:00'])}, until: until, by: ${by})`,
      ],
      [
        's',
        `s = ${this.pick(['2 W', '1e300 W', 'p', '0 W', 'p × n'])} × during(clock, ${this.pick(LITERALS.hours)})`,
      ],
      [
        'p',
        `p = ${this.pick(['10 W', '1..2..4 W', '0 W', '7 W [1..9 W]', '? W', '-3 W', '5 W ± 10 %'])}`,
      ],
      ['n', `n = ${this.pick(['2', '0', '50 %', '1..2..3', '-1', '1 [0..5 by 1]'])}`],
      ['t', this.table()],
    ]);
    if (this.chance(0.6)) frame.set('trees', this.trees());
    if (this.chance(0.6)) frame.set('log', this.log());
    return frame;
  }

  chart(): string {
    const cell = this.pick(this.cells).name;
    const item = this.pick([cell, `(${this.write('power', 'clock', 1)})`, 't.y', 'trees', 's']);
    const second = this.chance(0.3) ? `, ${this.pick(this.cells).name}` : '';
    const against = this.pick([
      '',
      '',
      '',
      ' against p = 1 W..9 W',
      ' against n = 1..3, p = 1..2 W',
    ]);
    const kinds = 'line bars stack list dots map bands spread influence sky'.split(' ');
    const as = this.chance(0.5) ? ` as ${this.pick(kinds)}` : '';
    return `chart ${item}${second}${against}${as}`;
  }
}

/** The notebook of this number. */
export function wovenNotebook(seed: number): string {
  const w = new Weaver(seed);
  if (w.chance(0.3)) w.wrong = 0.08;
  const header = ['dapple 1', `trials: ${w.pick([3, 5, 20])}`, `seed: ${w.whole(9)}`];
  if (w.chance(0.85)) header.push(w.place());
  const body = [...w.frame().values()];
  const names = [...NAMES];
  for (let i = 2 + w.whole(5); i > 0; i--) body.push(w.cell(names));
  if (w.chance(0.12))
    body.push(`round = previous(round, first: 0 W) + ${w.write('power', 'clock', 1)}`);
  if (w.chance(0.1)) body.push(`go = back + 1 W\nback = ${w.pick(['go', 'go × 2', 'min(go, p)'])}`);
  for (let i = w.whole(3); i > 0; i--)
    body.push(`${w.pick(['check', 'must'])} ${w.write('truth', w.pick(['', '', 'clock']), 2)}`);
  for (let i = w.whole(3); i > 0; i--)
    body.push(
      `scenario ${w.pick(['Thin', 'Überall', 'S', 'plan', '名'])} ${i}\n${Array.from({ length: 1 + w.whole(2) }, () => `  ${w.target(1)}`).join('\n')}`,
    );
  if (w.chance(0.4)) body.push(w.chart());
  if (w.chance(0.15)) body.push(`answer n = ${w.write('number', '', 1)} ± 1 %`);
  if (w.chance(0.1))
    body.push(w.pick(['# Heading', '| prose *with* emphasis', '! Danger', '-- remark']));
  return `${header.join('\n')}\n\n${w.shuffled(body).join('\n')}\n`;
}
