// Units as people write them: which spellings are read, what they stand for, what is said of others.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as dimensions from '../../../engine/dimension/dimension.ts';
import {
  coherentUnit,
  dimensionPhrase,
  findUnit,
  fromStored,
  isPointUnit,
  isUnit,
  plainUnit,
  preferredUnit,
  toStored,
  type Unit,
  unitHint,
  unitsOf,
} from '../../../engine/dimension/unit.ts';
import { unitChoices } from '../../../engine/dimension/unit-choices.ts';
import { explanations, respellings } from '../../../engine/dimension/unit-mistakes.ts';

/** The unit of a text; fails the test when there is none. */
function unit(text: string): Unit {
  const found = findUnit(text);
  if (found === undefined) throw new Error(`${text} is no unit`);
  return found;
}

const simple =
  'm mm cm km in ft yd mi nmi L gal g kg t lb oz s min h d A mA Ah mAh V mV kV W mW kW J kJ MJ Wh ' +
  'kWh Btu kcal Ω mΩ kΩ Hz kHz MHz GHz Pa hPa kPa bar mbar psi mph knot N hp ° rad °N °S °E °W ' +
  '°C °F K Δ°F % times dB dBm AWG µV µA nA MΩ MW µs ms';
const compound =
  'mm² cm² m² ft² m/s km/h W/m² Wh/m² MJ/m² %/K W/K Ω/km kJ/kg/K W·s/m³/K Wh/d V/m Ω·m 1/K s⁻¹ m^0.5';

describe('a unit', () => {
  test.each(`${simple} ${compound}`.split(' '))('%s is read and written alike', (text) => {
    expect(unit(text).symbol).toBe(text);
  });

  test.each([
    ['ohm', 'Ω'],
    ['mohm', 'mΩ'],
    ['kohm', 'kΩ'],
    ['\u2126', 'Ω'],
    ['deg', '°'],
    ['degC', '°C'],
    ['degF', '°F'],
    ['ddegF', 'Δ°F'],
    ['degN', '°N'],
    ['uV', 'µV'],
    ['\u03bcV', 'µV'],
    ['mm2', 'mm²'],
    ['mm^2', 'mm²'],
    ['m3', 'm³'],
    ['m^-1', 'm⁻¹'],
    ['W/m2', 'W/m²'],
    ['W*s/m3/K', 'W·s/m³/K'],
    ['uV/m', 'µV/m'],
    ['W/uV', 'W/µV'],
    ['ohm/km', 'Ω/km'],
    ['ohm·m', 'Ω·m'],
  ])('%s is another spelling of %s', (typed, symbol) => {
    expect(unit(typed).symbol).toBe(symbol);
  });

  test.each([
    ['W/m²', 1, dimensions.irradiance],
    ['kJ/kg/K', 1000, dimensions.specificHeat],
    ['Wh/m²', 3600, dimensions.irradiation],
    ['MJ/m²', 1e6, dimensions.irradiation],
    ['mm²', 1e-6, dimensions.area],
    ['cm²', 1e-4, dimensions.area],
    ['Ω/km', 1e-3, dimensions.resistancePerLength],
    ['%/K', 0.01, dimensions.temperatureCoefficient],
    ['Wh/d', 1 / 24, dimensions.wattage],
    ['V·A', 1, dimensions.wattage],
    ['A·h', 3600, dimensions.charge],
    ['km/h', 1000 / 3600, dimensions.speed],
    ['m/s²', 1, dimensions.acceleration],
  ])('%s is %d of the SI unit, from its definition', (text, factor, dimension) => {
    expect(unit(text).factor).toBe(factor);
    expect(unit(text).dimension).toBe(dimension);
  });

  test('is read once', () => {
    expect(findUnit('kW/m²')).toBe(findUnit('kW/m²'));
  });

  test.each('C F S T G H cd day hr a k M l u % % W-h °X W/ /W W//m m22 2 1 W/m²·K m4'.split(' '))(
    '%s is none, unless it is a percent',
    (text) => {
      expect(isUnit(text)).toBe(text === '%');
    },
  );

  test.each([
    '',
    ' ',
    'W ',
    ' W',
    'W / m',
    'm·',
    'µ',
    'mmm',
    'kkW',
    'mmin',
    'kft',
    'cV',
    'hm',
    'kd',
  ])('"%s" is none', (text) => {
    expect(isUnit(text)).toBe(false);
  });

  test.each(['dBm/m', 'AWG/m', 'times/h', '°N/h', '°W·m', 'dBm²'])(
    '%s is none: scales are no factors',
    (text) => {
      expect(isUnit(text)).toBe(false);
    },
  );

  test('is never found in, and never throws on, any text', () => {
    const pieces = [...simple.split(' '), '/', '·', '²', '^', '2', '-', '1', '0.5', 'u', ' ', '*'];
    const texts = fc.oneof(
      fc.string(),
      fc.string({ unit: 'binary' }),
      fc.array(fc.constantFrom(...pieces)).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(texts, (text) => {
        const found = findUnit(text);
        if (found === undefined) {
          const hint = unitHint(text);
          expect(hint === undefined || /\S\.$/.test(hint)).toBe(true);
        } else {
          expect(unitHint(text)).toBeUndefined();
          expect(Number.isFinite(found.factor) && found.factor !== 0).toBe(true);
          // What is written is read as the same unit again.
          const again = findUnit(found.symbol);
          expect(again?.dimension).toBe(found.dimension);
          expect(again?.factor).toBe(found.factor);
        }
      }),
      { numRuns: 2000 },
    );
  });

  test('of any length is answered', () => {
    expect(findUnit('m·'.repeat(100_000))).toBeUndefined();
    expect(unitHint('/'.repeat(10_000))).toBeUndefined();
  });
});

describe('a degree', () => {
  test('alone is a point, and inside a compound a difference', () => {
    expect(isPointUnit('°C')).toBe(true);
    expect(isPointUnit('°F')).toBe(true);
    expect(isPointUnit('dBm')).toBe(true);
    expect(['K', 'Δ°F', 'dB', '°', '°N', 'W', 'AWG', 'W/°C', 'no unit'].some(isPointUnit)).toBe(
      false,
    );
    expect(unit('W/°C').symbol).toBe('W/K');
    expect(unit('%/°F').symbol).toBe('%/Δ°F');
    expect(unit('%/°F').factor).toBeCloseTo(0.018, 15);
  });
});

describe('stored values', () => {
  test.each([
    [0, '°C', 0],
    [20, '°C', 20],
    [68, '°F', 20],
    [32, '°F', 0],
    [-40, '°F', -40],
    [212, '°F', 100],
    [18, 'Δ°F', 10],
    [5, 'K', 5],
    [-73, 'dBm', -73],
    [6, 'dB', 6],
    [35, '%', 0.35],
    [180, '°', Math.PI],
    [90, '°S', -Math.PI / 2],
    [180, '°W', -Math.PI],
    [12, 'mm²', 12e-6],
  ])('%d %s is kept as %d', (value, symbol, stored) => {
    expect(toStored(value, unit(symbol))).toBeCloseTo(stored, 12);
    expect(fromStored(stored, unit(symbol))).toBeCloseTo(value, 9);
  });

  test('shares keep their digits: every whole percent is the nearest number to its decimal', () => {
    for (let percent = -200; percent <= 200; percent += 1) {
      expect(toStored(percent, unit('%'))).toBe(Number(`${percent}e-2`));
    }
  });

  test('a gauge is kept as an area: 4/0 AWG is 0.46 in thick (ASTM B258)', () => {
    const area = (Math.PI / 4) * (0.46 * 0.0254) ** 2;
    expect(toStored(-3, unit('AWG'))).toBeCloseTo(area, 15);
    expect(fromStored(area, unit('AWG'))).toBeCloseTo(-3, 9);
  });

  test('come back as the number they were', () => {
    const units = [...simple.split(' '), ...compound.split(' ')].filter((text) => text !== 'AWG');
    fc.assert(
      fc.property(
        fc.constantFrom(...units),
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        (symbol, value) => {
          const back = fromStored(toStored(value, unit(symbol)), unit(symbol));
          expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-15 * Math.abs(value) * 4 + 1e-13);
        },
      ),
    );
  });
});

describe('a spelling that is no unit', () => {
  test.each([
    ['C', /°C.*0\.2 × capacity \/ 1 h/],
    ['F', /°F/],
    ['watts', /^Write W\.$/],
    ['amp hours', /^Write Ah\.$/],
    ['kw', /^Write kW\.$/],
    ['KWH', /^Write kWh\.$/],
    ['minutes', /^Write min\.$/],
    ['days', /^Write d\.$/],
    ['hr', /^Write h\.$/],
    ['W-h', /^Write Wh\.$/],
    ['l', /^Write L\.$/],
    ['mw', /^Write MW or mW\.$/],
    ['watts/m2', /^Write W\/m²\.$/],
    ['kWh/day', /^Write kWh\/d\.$/],
    ['%/C', /^Write %\/K\.$/],
    ['W/m²·K', /W\/m²\/K/],
    ['deg C', /^Write °C\.$/],
    ['kcmil', /mm²/],
  ])('%s: what to write instead', (text, sentence) => {
    expect(isUnit(text)).toBe(false);
    expect(unitHint(text)).toMatch(sentence);
  });

  test.each(['lamp', 'panels', 'e', 'constructor', '__proto__', 'toString'])(
    '%s: nothing to say',
    (text) => {
      expect(isUnit(text)).toBe(false);
      expect(unitHint(text)).toBeUndefined();
    },
  );

  test('in the tables of mistakes is indeed none, and what it leads to is one', () => {
    for (const [spelling, symbol] of respellings) {
      expect(isUnit(spelling), spelling).toBe(false);
      expect(isUnit(symbol), symbol).toBe(true);
    }
    for (const spelling of explanations.keys()) expect(isUnit(spelling), spelling).toBe(false);
  });
});

describe('the unit to show', () => {
  test.each(
    unitChoices.map((choice) => [dimensions.dimensionName(choice.dimension), choice] as const),
  )('for %s is in its menu, and all of the menu fits', (_name, choice) => {
    const menu = unitsOf(choice.dimension);
    expect(menu.map(({ symbol }) => symbol)).toEqual(choice.menu);
    for (const offered of menu) expect(offered.dimension).toBe(choice.dimension);
    const shown = [choice, ...(choice.imperial === undefined ? [] : [choice.imperial])].flatMap(
      ({ usual, steps }) => [usual, ...(steps ?? []).map(([, symbol]) => symbol)],
    );
    for (const symbol of shown) expect(unit(symbol).dimension, symbol).toBe(choice.dimension);
  });

  test.each([
    [dimensions.wattage, [], {}, 'W'],
    [dimensions.wattage, ['metric', 'Wh'], { size: 15_000 }, 'kW'],
    [dimensions.wattage, ['mW'], { size: 15_000 }, 'mW'],
    [dimensions.energy, ['metric', 'Wh', '°C'], {}, 'Wh'],
    [dimensions.energy, ['MJ'], {}, 'MJ'],
    [dimensions.area, [], { size: 6e-6 }, 'mm²'],
    [dimensions.area, [], { size: 0.8 }, 'm²'],
    [dimensions.area, ['AWG'], { size: 6e-6 }, 'AWG'],
    [dimensions.area, ['AWG'], { size: 0.8 }, 'm²'],
    [dimensions.angle, ['°S'], {}, '°'],
    [dimensions.time, [], {}, 'h'],
    [dimensions.time, [], { size: 4 * 86_400 }, 'd'],
    [dimensions.time, [], { size: -900 }, 'min'],
    [dimensions.temperature, ['°C'], {}, 'K'],
    [dimensions.temperature, ['°F'], {}, 'Δ°F'],
    [dimensions.temperature, ['°F'], { point: true }, '°F'],
    [dimensions.temperature, [], { point: true }, '°C'],
    [dimensions.temperature, ['imperial'], { point: true }, '°F'],
    [dimensions.temperature, ['imperial', '°C'], { point: true }, '°C'],
    [dimensions.level, [], { point: true }, 'dBm'],
    [dimensions.level, [], {}, 'dB'],
    [dimensions.length, ['imperial'], {}, 'ft'],
    [dimensions.plain, [], {}, ''],
    [dimensions.plain, [], { share: true }, '%'],
    [dimensions.divide(dimensions.wattage, dimensions.time), [], {}, 'W/s'],
    [dimensions.divide(dimensions.mass, dimensions.time), [], {}, 'kg/s'],
    [dimensions.flow, [], { size: 200e-3 / 86_400 }, 'L/h'],
    [dimensions.flow, [], { size: 1e-3 / 86_400 }, 'L/d'],
    [dimensions.pressure, [], { size: 101_325 }, 'hPa'],
    [dimensions.pressure, [], { size: 1.8e9 }, 'Wh/L'],
    [dimensions.length, ['nonsense', ''], { size: Number.NaN }, 'm'],
  ] as const)('of %o with %o and %o is %s', (dimension, preferences, options, symbol) => {
    expect(preferredUnit(dimension, preferences, options).symbol).toBe(symbol);
  });

  test('can be typed as it is shown, and is of factor 1 where the trade has none', () => {
    const halves = fc.array(fc.integer({ min: -6, max: 6 }), { minLength: 7, maxLength: 7 });
    fc.assert(
      fc.property(halves, (doubled) => {
        const dimension = dimensions.dimensionOf(
          Object.fromEntries(
            dimensions.bases.map((base, place) => [base, (doubled[place] ?? 0) / 2]),
          ),
        );
        if (dimension === dimensions.plain) return;
        const coherent = coherentUnit(dimension);
        expect(coherent.factor).toBe(1);
        expect(findUnit(coherent.symbol)?.dimension).toBe(dimension);
      }),
    );
  });

  test('for a menu of points leaves out differences, and the other way round', () => {
    expect(unitsOf(dimensions.temperature, true).map(({ symbol }) => symbol)).toEqual(['°C', '°F']);
    expect(unitsOf(dimensions.temperature, false).map(({ symbol }) => symbol)).toEqual([
      'K',
      'Δ°F',
    ]);
    expect(unitsOf(dimensions.plain)[0]).toBe(plainUnit);
  });

  test('stands beside the name in a message', () => {
    expect(dimensionPhrase(dimensions.wattage)).toBe('power (W)');
    expect(dimensionPhrase(dimensions.energy, ['MJ'])).toBe('energy (MJ)');
    expect(dimensionPhrase(dimensions.irradiance)).toBe('light (W/m²)');
    expect(dimensionPhrase(dimensions.plain)).toBe('a plain number');
  });
});

test.each([
  ['W', '1/W'],
  ['Wh', '1/Wh'],
  ['Ω', '1/Ω'],
  ['W/m²', 'm²/W'],
  ['Ω/km', 'km/Ω'],
  // The inverse of a time and of a temperature difference have units of their own.
  ['h', 'Hz'],
  ['K', '%/K'],
])('what is counted a %s is shown in %s', (symbol, shown) => {
  const known = unit(symbol);
  const inverse = preferredUnit(dimensions.divide(dimensions.plain, known.dimension));
  expect(inverse.symbol).toBe(shown);
  // One over the unit, in the unit turned over, is 1.
  if (shown.startsWith('1/')) expect(inverse.factor * known.factor).toBeCloseTo(1, 12);
});
