// What a page asks of a session besides its snapshot: a preview of a formula that is being typed,
// completions, the worked line of a cell, the units it may be shown in.

import { describe, expect, test } from 'vitest';
import { formulaInUnit, openSession } from '../../../engine/index.ts';
import { notebook } from './evaluated.ts';

const session = openSession(
  notebook(
    `panel rating = 100 W
panel voltage = 20 V
panel current = panel rating / panel voltage
air = -5 °C
warmer = air + 3 K
loads = table
  item | power | hours
  lamp | 6 W | 20:30..23:00
total = sum(loads.power)
changed = panel current with panel voltage = 10 V`,
  ),
);
const plain = (text: string): string => text.replace(/\u00a0/gu, ' ');

describe('a preview', () => {
  test('shows value, kind and messages, and leaves the notebook alone', () => {
    const before = session.text;
    const good = session.preview('panel current', 'panel rating / 50 V as mA');
    expect(plain(good.value.text)).toBe('2000 mA');
    expect(good.description).toBe('a current (mA)');
    expect(good.messages).toEqual([]);
    const bad = session.preview('panel current', 'panel rating + panel voltage');
    expect(bad.messages.map(({ code, span }) => [code, span.start, span.end])).toEqual([
      ['dimensions-differ', 0, 'panel rating + panel voltage'.length],
    ]);
    expect(session.text).toBe(before);
  });

  test('offers a fix at its place in the formula', () => {
    const { messages } = session.preview('', '2 × panel ratng');
    const [fix] = messages[0]?.fixes ?? [];
    expect(fix?.text).toBe('panel rating');
    expect(fix?.span).toEqual({ start: 4, end: '2 × panel ratng'.length });
  });

  test('colours names by what they mean', () => {
    const { tokens } = session.preview('', 'sum(loads.power) + panel rating × nothing + 3 W');
    const formula = 'sum(loads.power) + panel rating × nothing + 3 W';
    const kinds = tokens.map(({ kind, span }) => [formula.slice(span.start, span.end), kind]);
    expect(kinds).toContainEqual(['sum', 'function']);
    expect(kinds).toContainEqual(['loads', 'cell']);
    expect(kinds).toContainEqual(['panel rating', 'cell']);
    expect(kinds).toContainEqual(['nothing', 'name']);
    expect(kinds).toContainEqual(['W', 'unit']);
  });

  test('of an empty formula has no message yet', () => {
    expect(session.preview('panel current', '  ').messages).toEqual([]);
  });
});

describe('completions', () => {
  const labels = (formula: string, cell = ''): string[] =>
    session.completions(cell, formula, formula.length).map((one) => one.label);

  test('offer cells by the beginning of any word, and put them in from where the phrase begins', () => {
    const found = session.completions('', '2 × volt', '2 × volt'.length);
    expect(found[0]).toMatchObject({
      label: 'panel voltage',
      kind: 'cell',
      insert: 'panel voltage',
      from: 4,
    });
  });

  test('offer columns after the point, units after a number and after as', () => {
    expect(labels('sum(loads.')).toEqual(['item', 'power', 'hours']);
    expect(labels('loads.po')).toEqual(['power']);
    expect(labels('3 k')).toContain('kW');
    expect(labels('panel rating as ', 'panel rating')).toContain('kW');
  });

  test('offer first the units that the place asks for', () => {
    const wanted = (formula: string, cell = '', position = formula.length): string[] =>
      session
        .completions(cell, formula, position)
        .filter((one) => one.wanted === true)
        .map((one) => one.label);
    // A sum asks for the dimension of what stands beside the number, before and behind it.
    expect(wanted('panel rating + 15 ')).toEqual(['W', 'kW', 'mW', 'Wh/d']);
    expect(wanted('15  > panel voltage', '', 3)).toEqual(['V', 'mV', 'kV']);
    // A difference of temperatures is no temperature.
    expect(wanted('air + 3 ')).toContain('K');
    expect(wanted('air + 3 ')).not.toContain('°C');
    // An argument of a call that is not finished.
    expect(wanted('max(panel rating, 15 ')).toEqual(['W', 'kW', 'mW', 'Wh/d']);
    expect(wanted('panel current as ')).toEqual(['A', 'mA']);
    // The cell's own kind tells what is wanted of a quotient, and its present unit comes first.
    expect(wanted('panel rating / 5 ', 'panel current')[0]).toBe('V');
    expect(wanted('15 ', 'panel rating')[0]).toBe('W');
    const kilo = openSession(notebook('peak = 2 kW'));
    expect(kilo.completions('peak', '3 ', 2)[0]?.label).toBe('kW');
    // Nothing tells: the usual ones.
    expect(wanted('15 ')).toEqual([]);
    expect(labels('15 ')[0]).toBe('W');
    expect(labels('if panel rating > 15 ')[0]).toBe('W');
  });

  test('see that a number may stand inside a name', () => {
    const other = openSession(notebook('day 2 harvest = 300 Wh\nday 2 need = 200 Wh'));
    expect(other.completions('', 'day 2 har', 9)[0]).toMatchObject({
      label: 'day 2 harvest',
      from: 0,
    });
  });

  test('do not offer the cell itself', () => {
    expect(labels('panel', 'panel rating')).not.toContain('panel rating');
  });
});

describe('the worked line', () => {
  const lines = (cell: string): string[] =>
    session.worked(cell, 0).lines.map((line) => plain(line.map((part) => part.text).join('')));

  test('puts the numbers in', () => {
    expect(lines('panel current')).toEqual(['panel rating / panel voltage', '100 W / 20 V']);
    expect(plain(session.worked('panel current', 0).result)).toBe('5 A');
  });

  test('of a given is its formula alone, of a what-if too', () => {
    expect(lines('panel rating')).toEqual(['100 W']);
    expect(lines('changed')).toEqual(['panel current with panel voltage = 10 V']);
  });

  test('names the functions it uses', () => {
    expect(session.worked('total', 0).functions.map((fn) => fn.name)).toEqual(['sum']);
  });
});

test('units for a cell are such as a formula can say', () => {
  const fade = openSession('dapple 1\n\nfade = -0.29 %/K\n');
  expect(fade.unitChoices('fade')).toEqual(expect.arrayContaining(['%/K', '1/K']));
  fade.do({ do: 'formula', cell: 'fade', text: formulaInUnit('-0.29 %/K', '1/K') });
  expect(fade.report(0, false).cells.fade).toMatchObject({ value: -0.0029, unit: '1/K' });
  // "as rad^0.5" is no formula: the power would be one of the whole.
  const root = openSession('dapple 1\n\nroot = sqrt(90°)\n');
  for (const unit of root.unitChoices('root')) expect(unit).not.toContain('^');
});

test('units for a cell give it a figure that can be read', () => {
  const radio = openSession('dapple 1\n\nband = 7.1 MHz\nleak = 2 %/h\nnone yet = 0 %/h\n');
  expect(radio.unitChoices('band')).toEqual(['Hz', 'kHz', 'MHz', 'GHz']);
  expect(radio.unitChoices('leak')).toEqual(['1/h', '%/h', '%/d']);
  expect(radio.unitChoices('none yet')).toEqual(expect.arrayContaining(['Hz', '%/h']));
});

test('units for a cell are of its dimension, points for a point', () => {
  expect(session.unitChoices('panel rating')).toEqual(
    expect.arrayContaining(['W', 'kW', 'mW', 'Wh/d']),
  );
  expect(session.unitChoices('panel rating')).not.toContain('Wh');
  expect(session.unitChoices('air')).toEqual(expect.arrayContaining(['°C', '°F']));
  expect(session.unitChoices('air')).not.toContain('K');
});
