/*
 * What a panel makes of the light that falls on it: cell temperature, power, voltage on a cold
 * morning, the current-voltage curve and the loss when part of a string lies in shade.
 */

import { ZERO_CELSIUS } from './constants.ts';

/** Light under standard test conditions, W/m². */
export const STANDARD_LIGHT = 1000;

/** Cell temperature under standard test conditions, °C. */
export const STANDARD_CELL_TEMPERATURE = 25;

/**
 * Cell temperature from the nominal operating cell temperature on the data sheet.
 *
 *     Tc = Ta + G (NOCT − 20 °C) / 800 W/m²
 *
 * @param ambient  Ta, °C
 * @param light    on the panel, G, W/m²
 * @param nominal  NOCT, °C: the cell at 800 W/m², 20 °C and 1 m/s of wind
 * @returns        °C
 *
 * Source: Ross & Smokler, JPL 86-31, 1986; IEC 61215
 * Truth: test/reference/checks.json (cell_temperature_noct_C), no error beyond rounding
 */
export function cellTemperatureNominal(ambient: number, light: number, nominal: number): number {
  return ambient + ((nominal - 20) / 800) * light;
}

/**
 * Cell temperature in proportion to light.
 *
 *     Tc = Ta + k G
 *
 * @param ambient      Ta, °C
 * @param light        on the panel, G, W/m²
 * @param coefficient  k, K m²/W: 0.021 free standing, 0.026 on a flat roof, 0.056 built in (from
 *                     memory: Skoplaki & Palyvos, Renewable Energy 34 (2009) 23); 0.035 to 0.045
 *                     for a folding panel flat on the ground (common practice)
 * @returns            °C
 *
 * Source: Ross, 12th IEEE Photovoltaic Specialists Conference, 1976
 * Truth: test/reference/checks.json (cell_temperature_ross_C), no error beyond rounding
 */
export function cellTemperatureRoss(ambient: number, light: number, coefficient: number): number {
  return ambient + coefficient * light;
}

/**
 * Cell temperature from light and wind.
 *
 *     Tc = Ta + G / (U0 + U1 v)
 *
 * @param ambient   Ta, °C
 * @param light     on the panel, G, W/m²
 * @param wind      v, m/s, 0 or more
 * @param still     U0, W/(m² K): 25 free standing; 18 on the ground (common practice)
 * @param perSpeed  U1, W s/(m³ K): 6.84 free standing; 3 on the ground (common practice)
 * @returns         °C
 *
 * Source: Faiman, Progress in Photovoltaics 16 (2008) 307-315 (coefficients from memory)
 * Truth: test/reference/checks.json (cell_temperature_faiman_C), largest error 4e-5 K
 */
export function cellTemperatureFaiman(
  ambient: number,
  light: number,
  wind: number,
  still = 25,
  perSpeed = 6.84,
): number {
  return ambient + light / (still + perSpeed * wind);
}

/**
 * Power of a panel at its best voltage.
 *
 *     P = P_stc (G / 1000 W/m²) (1 + γ (Tc − 25 °C))
 *
 * @param rating           P_stc, W
 * @param light            on the panel, G, W/m²
 * @param cellTemperature  Tc, °C
 * @param perKelvin        γ, 1/K; −0.0035 to −0.0045 (data sheets)
 * @returns                W, never below 0
 *
 * Source: the linear model of data sheets; IEC 60891
 * Truth: test/reference/checks.json (pv_power_W), no error beyond rounding
 */
export function panelPower(
  rating: number,
  light: number,
  cellTemperature: number,
  perKelvin: number,
): number {
  const fade = 1 + perKelvin * (cellTemperature - STANDARD_CELL_TEMPERATURE);
  return Math.max(0, rating * (light / STANDARD_LIGHT) * fade);
}

/**
 * Open-circuit voltage of panels in series at a cell temperature.
 *
 *     V = n Voc (1 + β (Tc − 25 °C))
 *
 * @param openVoltage      of one panel, Voc, V
 * @param perKelvin        β, 1/K; −0.0028 to −0.0032 (data sheets)
 * @param cellTemperature  Tc, °C; for the highest voltage the season's record low
 * @param inSeries         n, whole, 1 or more
 * @returns                V
 *
 * Source: the linear model of data sheets; IEC 60891
 * Truth: test/reference/checks.json (voc_at_temperature_V), no error beyond rounding
 */
export function openVoltageAt(
  openVoltage: number,
  perKelvin: number,
  cellTemperature: number,
  inSeries: number,
): number {
  return inSeries * openVoltage * (1 + perKelvin * (cellTemperature - STANDARD_CELL_TEMPERATURE));
}

/** Lowest expected temperature down to which a factor holds, °C, and the factor; warmest first. */
export const COLD_VOLTAGE_FACTORS: readonly (readonly [number, number])[] = [
  [20, 1.02],
  [15, 1.04],
  [10, 1.06],
  [5, 1.08],
  [0, 1.1],
  [-5, 1.12],
  [-10, 1.14],
  [-15, 1.16],
  [-20, 1.18],
  [-25, 1.2],
  [-30, 1.21],
  [-35, 1.23],
  [-40, 1.25],
];

/**
 * Printed factor on the open-circuit voltage of crystalline panels.
 *
 * @param lowest  lowest expected ambient temperature, °C, −40 or more
 * @returns       dimensionless, 1 from 25 °C up; NaN below −40 °C
 *
 * Source: NFPA 70 (NEC), table 690.7(A) (from memory)
 * Truth: test/engine/physics/module.test.ts, the rows of the table
 */
export function coldVoltageFactor(lowest: number): number {
  if (lowest >= 25) return 1;
  const row = COLD_VOLTAGE_FACTORS.find(([from]) => lowest >= from);
  return row === undefined ? Number.NaN : row[1];
}

/** The five numbers of the single-diode model. */
export interface Diode {
  /** Light current IL, A. */
  readonly lightCurrent: number;
  /** Saturation current I0, A, more than 0. */
  readonly saturationCurrent: number;
  /** Series resistance Rs, Ω, more than 0. */
  readonly series: number;
  /** Shunt resistance Rsh, Ω, more than 0. */
  readonly shunt: number;
  /** Slope a = n Ns k T / q, V, more than 0. */
  readonly slope: number;
}

/**
 * Current of a panel at a voltage.
 *
 *     I = IL − I0 (exp((V + I Rs)/a) − 1) − (V + I Rs)/Rsh
 *
 * solved in closed form with Lambert's W, whose argument is kept as a logarithm so that it cannot
 * overflow.
 *
 * @param diode    the five numbers
 * @param voltage  V, V, 0 or more
 * @returns        A; negative beyond the open-circuit voltage
 *
 * Source: De Soto, Klein & Beckman, Solar Energy 80 (2006) 78-88; Jain & Kapoor, Solar Energy
 * Materials & Solar Cells 81 (2004) 269
 * Truth: test/reference/checks.json (single_diode_current_A), largest relative error 7e-7
 */
export function diodeCurrent(diode: Diode, voltage: number): number {
  const { lightCurrent, saturationCurrent, series, shunt, slope } = diode;
  const resistance = series + shunt;
  const source = lightCurrent + saturationCurrent;
  const exponent =
    Math.log((series * saturationCurrent * shunt) / (slope * resistance)) +
    (shunt * (series * source + voltage)) / (slope * resistance);
  return (shunt * source - voltage) / resistance - (slope / series) * lambertOfExp(exponent);
}

/**
 * Open-circuit voltage from the single-diode model.
 *
 *     0 = IL − I0 (exp(V/a) − 1) − V/Rsh
 *
 * @param diode  the five numbers
 * @returns      V
 *
 * Source: as `diodeCurrent`
 * Truth: test/engine/physics/module.test.ts, 21.915 V, where the current is 0
 */
export function diodeOpenVoltage(diode: Diode): number {
  const { lightCurrent, saturationCurrent, shunt, slope } = diode;
  const source = shunt * (lightCurrent + saturationCurrent);
  const exponent = Math.log((shunt * saturationCurrent) / slope) + source / slope;
  return source - slope * lambertOfExp(exponent);
}

/**
 * Voltage and power at the best point of the curve, by golden section.
 *
 * @param diode  the five numbers
 * @returns      V and W
 *
 * Source: as `diodeCurrent`; the power has one maximum between 0 and the open-circuit voltage
 * Truth: test/reference/checks.json (single_diode_pmp_W, single_diode_vmp_V), largest relative
 * error 9e-7
 */
export function diodeBestPoint(diode: Diode): { readonly voltage: number; readonly power: number } {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let low = 0;
  let high = diodeOpenVoltage(diode);
  for (let round = 0; round < 60; round += 1) {
    const left = high - ratio * (high - low);
    const right = low + ratio * (high - low);
    if (left * diodeCurrent(diode, left) < right * diodeCurrent(diode, right)) low = left;
    else high = right;
  }
  const voltage = (low + high) / 2;
  return { voltage, power: voltage * diodeCurrent(diode, voltage) };
}

/**
 * Slope of the diode curve.
 *
 *     a = n Ns k T / q
 *
 * @param ideality         n, 1 to 2
 * @param cells            in series Ns, whole
 * @param cellTemperature  T, °C
 * @returns                V
 *
 * Source: De Soto, Klein & Beckman, Solar Energy 80 (2006) 78-88; k/q from the SI Brochure, exact
 * Truth: test/engine/physics/module.test.ts, 25.693 mV for one ideal cell at 25 °C
 */
export function diodeSlope(ideality: number, cells: number, cellTemperature: number): number {
  return ideality * cells * (1.380649e-23 / 1.602176634e-19) * (cellTemperature + ZERO_CELSIUS);
}

/**
 * Share of its power that a string gives when some of its bypass groups are shaded.
 *
 *     P / P0 = max((n − s) / n, x)
 *
 * the better of bypassing the shaded groups and dragging them along at low current.
 *
 * @param groups  bypass groups in the string n, whole, 1 or more
 * @param shaded  of them in shade s, 0 to n
 * @param light   on the shaded ones as a share of the full light x, 0 to 1
 * @returns       dimensionless, 0 to 1
 *
 * Best case: the diodes' own voltage is left out, the tracker is taken to find the better peak, and
 * the voltage left must still reach the controller's start. Within a group one leaf may stop all.
 * Source: two operating points of a series string, written out above
 * Truth: test/reference/checks.json (string_power_fraction_bypass), no error beyond rounding
 */
export function stringShare(groups: number, shaded: number, light: number): number {
  return shaded > 0 ? Math.max((groups - shaded) / groups, light) : 1;
}

/**
 * Lambert's W of e^x: the w with w + ln w = x.
 *
 *     w ← w (1 + x − ln w) / (1 + w)     (Newton)
 */
function lambertOfExp(x: number): number {
  if (x < -700) return Math.exp(x);
  let w = x > 1 ? x - Math.log(x) : Math.exp(Math.min(x, 0)) / (1 + Math.exp(Math.min(x, 0)));
  for (let round = 0; round < 50; round += 1) {
    const next = (w * (1 + x - Math.log(w))) / (1 + w);
    if (Math.abs(next - w) <= 1e-15 * Math.abs(next)) return next;
    w = next;
  }
  return w;
}
