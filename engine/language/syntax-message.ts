// Which message fits when the parser meets a token that cannot stand where it does. Kept apart from
// the grammar, so that the grammar reads as a grammar.

import type { Diagnostic, Fix } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import type { Token, UnitContext } from './token.ts';

/** What hurried people write for a unit, and the unit they mean. */
const MEANT_UNITS: ReadonlyMap<string, string> = new Map([
  ['c', '°C'],
  ['celsius', '°C'],
  ['f', '°F'],
  ['fahrenheit', '°F'],
  ['kelvin', 'K'],
  ['w', 'W'],
  ['watt', 'W'],
  ['watts', 'W'],
  ['wh', 'Wh'],
  ['watthours', 'Wh'],
  ['kw', 'kW'],
  ['kwh', 'kWh'],
  ['v', 'V'],
  ['volt', 'V'],
  ['volts', 'V'],
  ['a', 'A'],
  ['amp', 'A'],
  ['amps', 'A'],
  ['ah', 'Ah'],
  ['ohms', 'Ω'],
  ['second', 's'],
  ['seconds', 's'],
  ['sec', 's'],
  ['minute', 'min'],
  ['minutes', 'min'],
  ['mins', 'min'],
  ['hour', 'h'],
  ['hours', 'h'],
  ['hr', 'h'],
  ['hrs', 'h'],
  ['day', 'd'],
  ['days', 'd'],
  ['metre', 'm'],
  ['metres', 'm'],
  ['meter', 'm'],
  ['meters', 'm'],
  ['feet', 'ft'],
  ['foot', 'ft'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['mile', 'mi'],
  ['miles', 'mi'],
  ['percent', '%'],
  ['degree', '°'],
  ['degrees', '°'],
  ['db', 'dB'],
  ['dbm', 'dBm'],
  ['awg', 'AWG'],
]);

/** The unit meant by a word, if it is one of the usual slips and the context has that unit. */
export function meantUnit(written: string, context: UnitContext): string | undefined {
  const meant = MEANT_UNITS.get(written.toLowerCase());
  if (meant === undefined || meant === written) return undefined;
  return meant === 'AWG' || context.isUnit(meant) ? meant : undefined;
}

/** `"minutes" is no unit`, after a number or after `as`. */
export function unknownUnit(
  token: Token,
  place: 'number' | 'as',
  context: UnitContext,
): Diagnostic {
  const { text, span } = token;
  const hyphen = /^(\S+?)[-\u2010\u2011](\S+)$/u.exec(text);
  if (place === 'number' && hyphen !== null && context.isUnit(hyphen[1] ?? '')) {
    const product = `${hyphen[1]}·${hyphen[2]}`;
    const difference = `${hyphen[1]} - ${hyphen[2]}`;
    return message('unit-hyphen', span, [text, product, difference]);
  }
  const meant = meantUnit(text, context);
  if (meant === undefined) {
    const hint = context.unitHint?.(text);
    if (hint !== undefined) {
      const [, unit] = /^Write (\S+)\.$/u.exec(hint) ?? [];
      const fixes = unit === undefined ? [] : [{ label: `Write ${unit}`, span, text: unit }];
      return message('unit-hint', span, [text, hint], fixes);
    }
    return message(place === 'as' ? 'as-unit-unknown' : 'unit-unknown', span, [text]);
  }
  const fixes: readonly Fix[] = [{ label: `Write ${meant}`, span, text: meant }];
  return message(place === 'as' ? 'as-unit-meant' : 'unit-meant', span, [text, meant], fixes);
}

/** The message about a token that stands where an operand is due. */
export function operandMissing(token: Token): Diagnostic {
  const { span, text } = token;
  switch (token.kind) {
    case 'bad':
      return token.diagnostic;
    case 'end':
      return message('stops-early', span, []);
    case 'label':
      return message('label-place', span, [text]);
    case 'word':
      if (token.word === 'if' || token.word === 'not') {
        return message('begins-inside', span, [token.word]);
      }
      return message('missing-before', span, [text]);
    case 'punctuation':
      if (token.sign === '[') return message('bounds-place', span, []);
      if (token.sign === ')' || token.sign === '(') return message('missing-before', span, [text]);
      return message('cannot-stand', span, [text]);
    default:
      return message('missing-before', span, [text]);
  }
}

/** The message about a token that follows a finished operand and cannot. */
export function cannotFollow(previous: Token, token: Token, context: UnitContext): Diagnostic {
  const { span, text } = token;
  switch (token.kind) {
    case 'bad':
      return token.diagnostic;
    case 'word':
      if (token.word === 'if' || token.word === 'not') {
        return message('begins-inside', span, [token.word]);
      }
      return message('cannot-stand', span, [text]);
    case 'operator':
      return message('missing-between', span, [text]);
    case 'punctuation':
      return punctuationAfter(previous, token.sign, token);
    case 'number':
      if (previous.kind === 'number' && /^[0-9.]+$/u.test(previous.text + text)) {
        const meant = previous.text + text;
        const whole = { start: previous.span.start, end: span.end };
        return message(
          'number-space',
          span,
          [meant],
          [{ label: `Write ${meant}`, span: whole, text: meant }],
        );
      }
      return message('missing-between', span, [text]);
    case 'unit':
      return token.known
        ? message('missing-between', span, [text])
        : unknownUnit(token, 'number', context);
    case 'name':
      if (previous.kind === 'number') return unknownUnit(token, 'number', context);
      if (previous.kind === 'name') {
        const meant = `${previous.text} ${text}`;
        const whole = { start: previous.span.start, end: span.end };
        return message(
          'name-spaces',
          span,
          [meant],
          [{ label: `Write "${meant}"`, span: whole, text: meant }],
        );
      }
      return message('missing-between', span, [text]);
    default:
      return message('missing-between', span, [text]);
  }
}

function punctuationAfter(previous: Token, sign: string, token: Token): Diagnostic {
  const { span, text } = token;
  if (sign === ')') {
    return message('parenthesis-extra', span, [], [{ label: 'Delete it', span, text: '' }]);
  }
  if (sign === '[' || sign === ']') return message('bounds-place', span, []);
  if (sign === '.') return message('part-of', span, []);
  if (sign === '(') {
    const before = { start: previous.span.end, end: span.start };
    const times: Fix = { label: 'Write ×', span: before, text: ' × ' };
    if (before.start === before.end) return message('call-times', span, [], [times]);
    return message(
      'call-space',
      span,
      [],
      [times, { label: 'Leave out the space', span: before, text: '' }],
    );
  }
  return message('cannot-stand', span, [text]);
}
