// What element functions say where there is no answer, and that a dark sky is dark and not unknown.

import { describe, expect, test } from 'vitest';
import { call, functionCalled, type Given, OPEN, outline, type Place, valueFrom } from './call.ts';

const DEGREE = Math.PI / 180;
const CAMP: Place = { latitude: 44.5, longitude: -110.2, altitude: 2100, offset: -6 * 3600 };
const TROMSO: Place = { latitude: 69.65, longitude: 18.96, offset: 2 * 3600 };
const at = (text: string): number => Date.parse(`${text}Z`) / 1000;

describe('no answer', () => {
  const cases: readonly [
    name: string,
    given: Readonly<Record<string, Given>>,
    said: RegExp,
    place: Place | undefined,
  ][] = [
    ['ln', { x: 0 }, /above 0/, undefined],
    ['ln', { x: -2 }, /above 0/, undefined],
    ['log10', { x: 0 }, /above 0/, undefined],
    ['exp', { x: 800 }, /too large/, undefined],
    ['tan', { x: Math.PI / 2 }, /no value at 90°/, undefined],
    ['sunrise', { on: at('2027-06-21') }, /does not rise on Mon 21 Jun: it stays up/, TROMSO],
    ['sunset', { on: at('2027-12-21') }, /does not set on Tue 21 Dec: it stays below/, TROMSO],
    ['ampacity', { of: 4e-6, insulation: 60, at: 60 }, /as hot as the insulation/, undefined],
    ['ampacity', { of: 5.2612e-6, insulation: 70 }, /No entry.*NEC 310\.16/, undefined],
    ['ampacity', { of: 1e-6, insulation: 90 }, /No entry.*EN 50618/, undefined],
    ['next wire', { area: 119e-6, sizes: 'AWG' }, /4\/0 AWG/, undefined],
    [
      'noise level',
      { environment: 'quiet rural', frequency: 50e6 },
      /0\.3 MHz to 30 MHz/,
      undefined,
    ],
    ['noise level', { environment: 'galactic', frequency: 7e6 }, /10 MHz to 100 MHz/, undefined],
    [
      'beam share',
      { window: outline([0, 95, 0], [120, 10, 0], [240, 10, 0]), sun: [0.5, 3, 1] },
      /heights from 0° to 90°/,
      undefined,
    ],
    [
      'sky share',
      { window: Float64Array.of(Number.NaN), tilt: 0, facing: 0 },
      /outline/,
      undefined,
    ],
    [
      'plane light',
      {
        sky: [500, 100, 400, 1361],
        sun: [0.5, 3, 1],
        window: outline([0, 10, 2], [120, 10, 0], [240, 10, 0]),
        tilt: 0,
        facing: 0,
      },
      /light through from 0 % to 100 %/,
      undefined,
    ],
  ];
  test.each(cases)('%s %j', (name, given, said, place) => {
    const { values, problem } = call(name, given, place);
    expect(values[0]).toBeNaN();
    expect(problem).toMatch(said);
    expect(problem.endsWith('.')).toBe(true);
  });
});

test('an answer leaves nothing to say', () => {
  const sunny = call('sunrise', { on: at('2027-05-14') }, CAMP);
  expect(sunny.problem).toBe('');
  expect(sunny.values[0]).toBeGreaterThan(at('2027-05-14T05:00'));
  expect(sunny.values[0]).toBeLessThan(at('2027-05-14T07:00'));
});

test('any moment of a day has the sunrise of that day', () => {
  const morning = valueFrom('sunrise', { on: at('2027-05-14') }, CAMP);
  expect(valueFrom('sunrise', { on: at('2027-05-14T23:59') }, CAMP)).toBe(morning);
  expect(valueFrom('sunrise', { on: at('2027-05-15') }, CAMP)).toBeGreaterThan(morning + 80_000);
});

describe('at night', () => {
  const sun = call('sun position', { at: at('2027-05-14T01:00') }, CAMP).values;
  const sky = call('clear sky', { sun }, CAMP).values;

  test('the sun stands below the horizon', () => {
    expect(sun[0]).toBeLessThan(0);
  });

  test('there is no light, and the beam outside is still known', () => {
    expect(sky.slice(0, 3)).toEqual([0, 0, 0]);
    // So that beam / beam outside is 0 at night. The distance of the sun varies it by 3.4 %.
    expect(sky[3]).toBeGreaterThan(1361 * 0.966);
    expect(sky[3]).toBeLessThan(1361 * 1.035);
  });

  test('shares and sums are 0', () => {
    expect(valueFrom('beam share', { window: OPEN, sun })).toBe(0);
    const given = { sky, sun, window: OPEN, tilt: 0.5, facing: 3 };
    expect(valueFrom('plane light', given)).toBe(0);
    expect(call('clouded sky', { sky, 'clear index': 0.5 }).values.slice(0, 3)).toEqual([0, 0, 0]);
  });

  test('the polar night has no outside sum', () => {
    expect(valueFrom('outside sum', { on: at('2027-12-21') }, { ...TROMSO, latitude: 75 })).toBe(0);
  });
});

describe('outlines', () => {
  const wall = outline([90, 30, 0.2], [180, 30, 0.2], [270, 30, 0.2]);
  const low = [20 * DEGREE, Math.PI, 1];
  const high = [40 * DEGREE, Math.PI, 1];

  test('hide a low sun but for what the crown lets through', () => {
    expect(valueFrom('beam share', { window: wall, sun: low })).toBeCloseTo(0.2, 12);
    expect(valueFrom('beam share', { window: wall, sun: high })).toBe(1);
  });

  test('are told apart by their contents, though they come in one array', () => {
    const array = Float64Array.from(wall);
    expect(valueFrom('beam share', { window: array, sun: low })).toBeCloseTo(0.2, 12);
    array.fill(0.6, 7);
    expect(valueFrom('beam share', { window: array, sun: low })).toBeCloseTo(0.6, 12);
    array.set(wall);
    expect(valueFrom('beam share', { window: array, sun: low })).toBeCloseTo(0.2, 12);
  });

  test('and planes are remembered without being mixed up', () => {
    // (1 + cos β)/2, Duffie & Beckman, section 2.15; more tilts, and more skies, than are kept.
    for (const round of [1, 2]) {
      for (let degrees = 0; degrees <= 90; degrees += 3) {
        const share = valueFrom('sky share', {
          window: OPEN,
          tilt: degrees * DEGREE,
          facing: round,
        });
        expect(share).toBeCloseTo((1 + Math.cos(degrees * DEGREE)) / 2, 4);
      }
      // cos² h for a level plane in a ring of height h.
      for (let height = 0; height <= 60; height += 5) {
        const window = outline([0, height, 0], [120, height, 0], [240, height, 0]);
        const share = valueFrom('sky share', { window, tilt: 0, facing: 0 });
        expect(share).toBeCloseTo(Math.cos(height * DEGREE) ** 2, 9);
      }
    }
  });
});

describe('the ranges that callers are held to shut out', () => {
  const outside: readonly (readonly [name: string, parameter: string, value: number])[] = [
    ['arcsin', 'x', 1.1],
    ['clear sky', 'turbidity', 0.5],
    ['clouded sky', 'clear index', 1.2],
    ['resistance', 'of', 150e-6],
    ['resistance', 'at', 130],
    ['ampacity', 'insulation', 50],
    ['next fuse', 'current', -1],
    ['noise level', 'frequency', 0.1e6],
    ['plane light', 'albedo', 1.2],
    ['sun position', 'at', at('1900-01-01')],
  ];
  test.each(outside)('%s: %s %d', (name, parameter, value) => {
    const found = functionCalled(name).parameters.find((each) => each.name === parameter);
    const [low, high] = found?.range ?? [Number.NaN, Number.NaN];
    expect(value < low || value > high).toBe(true);
  });
});
