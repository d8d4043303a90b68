// "as": the same value in another unit, or the change of scale named.

import {
  area,
  current,
  type Dimension,
  divide,
  level,
  multiply,
  plain,
  temperature,
  time,
  voltage,
  wattage,
} from '../dimension/dimension.ts';
import type { AsNode } from '../language/ast.ts';
import { asQuantity, unitOf } from './check-common.ts';
import type { Checker, Place } from './checker.ts';
import { describeKind } from './describe.ts';
import { reject } from './rejected.ts';
import { type QuantityType, quantity } from './type.ts';
import type { Expr } from './typed.ts';

export function checkAs(c: Checker, node: AsNode, place: Place): Expr {
  const value = c.expression(node.value, place);
  const type = asQuantity(c, value, node.value, place, `shown in ${node.unit.text}`);
  const unit = unitOf(node.unit.text, node.unit.span);
  const q = c.quote(node.value, place);
  const to = (
    fn: 'dBm of W' | 'W of dBm' | 'dB of share' | 'share of dB',
    t: QuantityType,
  ): Expr => ({ op: 'map', fn, type: t, args: [value] });
  const shape = { axes: type.axes, optional: type.optional, flow: type.flow };
  if (type.stance === 'moment')
    reject('as-unit', node.unit.span, `"${q}" is a moment and has no unit.`);
  if (type.dimension === level) {
    if (type.stance === 'level') {
      if (unit.dimension === wattage) return to('W of dBm', quantity(wattage, { ...shape, unit }));
      if (unit.isPoint && unit.dimension === level)
        return { ...value, type: { ...type, unit } } as Expr;
    } else {
      if (unit.scale === 'times') return to('share of dB', quantity(plain, shape));
      if (unit.dimension === level && !unit.isPoint)
        return { ...value, type: { ...type, unit } } as Expr;
    }
  }
  if (unit.dimension === level && type.stance === 'plain') {
    if (unit.isPoint && type.dimension === wattage)
      return to('dBm of W', quantity(level, { ...shape, stance: 'level', unit }));
    if (!unit.isPoint && type.dimension === plain)
      return to('dB of share', quantity(level, { ...shape, unit }));
  }
  if (unit.scale === 'gauge' && type.dimension === area)
    return { ...value, type: { ...type, unit } } as Expr;
  const isLevel = unit.isPoint && unit.dimension === level;
  if (
    unit.dimension !== type.dimension ||
    (type.dimension === level && isLevel !== (type.stance === 'level'))
  ) {
    const other = quantity(unit.dimension, { unit, stance: isLevel ? 'level' : 'plain' });
    reject(
      'as-dimension',
      node.span,
      `"${q}" is ${describeKind({ ...type, axes: [] })} and cannot be shown in ${node.unit.text}, which is ${describeKind(other)}.${wayTo(type.dimension, unit.dimension)}`,
    );
  }
  if (type.stance === 'temperature' && !unit.isPoint)
    reject(
      'as-kelvin',
      node.span,
      `"${q}" is a temperature on a scale; it has no "as ${node.unit.text}". Its distance from absolute zero is ${q} - (-273.15 °C).`,
    );
  if (type.stance === 'plain' && unit.isPoint && type.dimension === temperature)
    reject('as-kelvin', node.span, `"${q}" is a difference of temperature. Show it as K.`, [
      { label: 'as K', span: node.unit.span, text: 'K' },
    ]);
  const { timeline: _, ...rest } = type;
  return { ...value, type: { ...rest, unit } } as Expr;
}

/** What leads from one dimension to another, when it is a time, a voltage or a current. */
function wayTo(from: Dimension, to: Dimension): string {
  for (const [between, words] of [
    [time, 'a time, such as 3 h'],
    [voltage, 'a voltage, such as 12 V'],
    [current, 'a current, such as 5 A'],
  ] as const) {
    if (multiply(from, between) === to) return ` Multiply it by ${words}, first.`;
    if (divide(from, between) === to) return ` Divide it by ${words}, first.`;
  }
  return '';
}
