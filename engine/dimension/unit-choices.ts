/*
 * Which units the page offers for a dimension, and which it shows first. Data only, by symbol; a
 * dimension that is absent here is shown in SI units. `steps` are the units for sizes from a bound
 * on (in SI units); a result without a known size takes `usual`.
 */

import type { Dimension } from './dimension.ts';
import * as dimensions from './dimension.ts';

export interface UnitChoice {
  readonly dimension: Dimension;
  /** In the order of a menu. */
  readonly menu: readonly string[];
  readonly usual: string;
  readonly steps?: readonly (readonly [from: number, symbol: string])[];
  readonly imperial?: Pick<UnitChoice, 'usual' | 'steps'>;
}

const hour = 3600;
const day = 86_400;

export const unitChoices: readonly UnitChoice[] = [
  {
    dimension: dimensions.length,
    menu: ['mm', 'cm', 'm', 'km', 'in', 'ft', 'yd', 'mi', 'nmi'],
    usual: 'm',
    steps: [
      [0, 'mm'],
      [0.1, 'm'],
      [10_000, 'km'],
    ],
    imperial: {
      usual: 'ft',
      steps: [
        [0, 'in'],
        [0.3048, 'ft'],
        [8046.72, 'mi'],
      ],
    },
  },
  {
    dimension: dimensions.area,
    menu: ['mm²', 'cm²', 'm²', 'ft²', 'AWG'],
    usual: 'm²',
    steps: [
      [0, 'mm²'],
      [1e-3, 'cm²'],
      [0.1, 'm²'],
    ],
    // Wires sold by area are sold in mm² everywhere.
    imperial: {
      usual: 'ft²',
      steps: [
        [0, 'mm²'],
        [1e-3, 'ft²'],
      ],
    },
  },
  {
    dimension: dimensions.volume,
    menu: ['mL', 'L', 'm³', 'gal'],
    usual: 'L',
    steps: [
      [0, 'L'],
      [1, 'm³'],
    ],
    imperial: { usual: 'gal' },
  },
  {
    dimension: dimensions.mass,
    menu: ['g', 'kg', 't', 'oz', 'lb'],
    usual: 'kg',
    steps: [
      [0, 'g'],
      [1, 'kg'],
    ],
    imperial: { usual: 'lb' },
  },
  {
    dimension: dimensions.time,
    menu: ['s', 'min', 'h', 'd'],
    usual: 'h',
    steps: [
      [0, 's'],
      [60, 'min'],
      [hour, 'h'],
      [3 * day, 'd'],
    ],
  },
  {
    dimension: dimensions.frequency,
    menu: ['Hz', 'kHz', 'MHz', 'GHz', '1/h', '%/h', '%/d'],
    usual: 'Hz',
    steps: [
      [0, '%/d'],
      [1e-5, '1/h'],
      [0.01, 'Hz'],
      [1e4, 'kHz'],
      [1e6, 'MHz'],
      [1e9, 'GHz'],
    ],
  },
  {
    dimension: dimensions.speed,
    menu: ['m/s', 'km/h', 'mph', 'knot'],
    usual: 'm/s',
    imperial: { usual: 'mph' },
  },
  { dimension: dimensions.acceleration, menu: ['m/s²'], usual: 'm/s²' },
  { dimension: dimensions.force, menu: ['N', 'kN', 'Wh/km'], usual: 'N' },
  {
    dimension: dimensions.pressure,
    menu: ['Pa', 'hPa', 'kPa', 'mbar', 'bar', 'psi', 'Wh/L'],
    usual: 'hPa',
    // So much in a space is no pressure of the weather or of a tyre but what a cell or a fuel holds.
    steps: [
      [0, 'hPa'],
      [1e7, 'Wh/L'],
    ],
    imperial: { usual: 'psi' },
  },
  {
    dimension: dimensions.flow,
    menu: ['L/min', 'L/h', 'L/d', 'm³/s'],
    usual: 'L/h',
    steps: [
      [0, 'L/d'],
      [1e-3 / hour, 'L/h'],
      [1e-3 / 60, 'L/min'],
      [1, 'm³/s'],
    ],
  },
  { dimension: dimensions.currentDensity, menu: ['A/mm²', 'A/m²'], usual: 'A/mm²' },
  { dimension: dimensions.angularSpeed, menu: ['°/h', '°/s', 'rad/s'], usual: '°/h' },
  { dimension: dimensions.heatCapacity, menu: ['Wh/K', 'kJ/K'], usual: 'Wh/K' },
  { dimension: dimensions.density, menu: ['kg/m³', 'kg/L'], usual: 'kg/m³' },
  {
    dimension: dimensions.current,
    menu: ['mA', 'A'],
    usual: 'A',
    steps: [
      [0, 'mA'],
      [0.1, 'A'],
    ],
  },
  {
    dimension: dimensions.charge,
    menu: ['mAh', 'Ah'],
    usual: 'Ah',
    steps: [
      [0, 'mAh'],
      [360, 'Ah'],
    ],
  },
  {
    dimension: dimensions.voltage,
    menu: ['mV', 'V', 'kV'],
    usual: 'V',
    steps: [
      [0, 'mV'],
      [0.1, 'V'],
      [1e4, 'kV'],
    ],
  },
  {
    dimension: dimensions.wattage,
    menu: ['mW', 'W', 'kW', 'hp', 'Btu/h', 'Wh/d', 'kWh/d'],
    usual: 'W',
    steps: [
      [0, 'mW'],
      [0.01, 'W'],
      [1e4, 'kW'],
    ],
  },
  {
    dimension: dimensions.energy,
    menu: ['Wh', 'kWh', 'J', 'kJ', 'MJ', 'Btu', 'kcal'],
    usual: 'Wh',
    steps: [
      [0, 'Wh'],
      [1e4 * hour, 'kWh'],
    ],
  },
  {
    dimension: dimensions.resistance,
    menu: ['mΩ', 'Ω', 'kΩ'],
    usual: 'Ω',
    steps: [
      [0, 'mΩ'],
      [0.1, 'Ω'],
      [1e4, 'kΩ'],
    ],
  },
  { dimension: dimensions.resistivity, menu: ['Ω·m'], usual: 'Ω·m' },
  {
    dimension: dimensions.resistancePerLength,
    menu: ['Ω/km', 'mΩ/m', 'Ω/m', 'Ω/ft'],
    usual: 'Ω/km',
  },
  // A farad has no symbol of its own here, for `F` is left to the hurried temperature.
  { dimension: dimensions.capacitance, menu: ['Ah/V'], usual: 'Ah/V' },
  { dimension: dimensions.fieldStrength, menu: ['V/m', 'mV/m', 'µV/m'], usual: 'V/m' },
  {
    dimension: dimensions.temperature,
    menu: ['K', 'Δ°F', '°C', '°F'],
    usual: 'K',
    imperial: { usual: 'Δ°F' },
  },
  { dimension: dimensions.temperatureCoefficient, menu: ['%/K', '1/K'], usual: '%/K' },
  { dimension: dimensions.heatLoss, menu: ['W/K'], usual: 'W/K' },
  { dimension: dimensions.specificHeat, menu: ['kJ/kg/K', 'Wh/kg/K'], usual: 'kJ/kg/K' },
  { dimension: dimensions.specificEnergy, menu: ['Wh/kg', 'kJ/kg'], usual: 'Wh/kg' },
  { dimension: dimensions.heatTransfer, menu: ['W/m²/K'], usual: 'W/m²/K' },
  { dimension: dimensions.angle, menu: ['°', 'rad'], usual: '°' },
  { dimension: dimensions.level, menu: ['dB', 'dBm'], usual: 'dB' },
  { dimension: dimensions.irradiance, menu: ['W/m²', 'kW/m²'], usual: 'W/m²' },
  { dimension: dimensions.irradiation, menu: ['Wh/m²', 'kWh/m²', 'MJ/m²'], usual: 'Wh/m²' },
];
