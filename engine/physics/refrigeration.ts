/*
 * A cool box: heat that leaks in, the machine that pumps it out, warm food, and how to carry a trial
 * at home over to a hot day. Temperatures are in °C, as everywhere in `physics/`.
 */

import { ZERO_CELSIUS } from './constants.ts';

/** Specific heats, J/(kg K). Source: ASHRAE Handbook Refrigeration, thermal properties of foods. */
export const WATER_HEAT = 4186;
export const ICE_HEAT = 2050;

/** Heat of melting of ice, J/kg. Source: as above. */
export const MELTING_HEAT = 334_000;

/**
 * Heat leaking into a box.
 *
 *     Q = UA (Ta − Ti)
 *
 * @param conductance  UA, W/K
 * @param ambient      Ta, °C
 * @param inside       Ti, °C
 * @returns            W; negative when it is colder outside
 *
 * Source: steady conduction
 * Truth: test/reference/checks.json (fridge_heat_gain_W), no error beyond rounding
 */
export function heatGain(conductance: number, ambient: number, inside: number): number {
  return conductance * (ambient - inside);
}

/**
 * Conductance of insulation.
 *
 *     UA = k A / d
 *
 * @param area          A, m²
 * @param conductivity  k, W/(m K)
 * @param thickness     d, m
 * @returns             W/K; a lid's gasket and edges add about 30 % (common practice)
 *
 * Source: steady conduction through a plate
 * Truth: test/reference/checks.json (insulation_UA_WperK), largest relative error 4e-7
 */
export function insulationConductance(
  area: number,
  conductivity: number,
  thickness: number,
): number {
  return (conductivity * area) / thickness;
}

/**
 * Mean electric power of a box.
 *
 *     P = Q / COP + Pe
 *
 * @param heat         leaking in Q, W; 0 W of cooling when it is negative
 * @param performance  coefficient of performance COP, more than 0
 * @param electronics  always on Pe, W
 * @returns            W
 *
 * Source: the definition of COP
 * Truth: test/reference/checks.json (fridge_mean_power_W), largest relative error 2e-6
 */
export function coolingPower(heat: number, performance: number, electronics = 0): number {
  return Math.max(0, heat) / performance + electronics;
}

/**
 * Share of the time that the compressor runs.
 *
 *     D = Q / (COP P_c)
 *
 * @param heat         leaking in Q, W
 * @param performance  COP, more than 0
 * @param compressor   power while it runs P_c, W, more than 0
 * @returns            dimensionless; above 1 the box cannot hold its temperature
 *
 * Source: the definition
 * Truth: test/reference/checks.json (fridge_duty_cycle), largest relative error 1e-6
 */
export function compressorDuty(heat: number, performance: number, compressor: number): number {
  return heat / (performance * compressor);
}

/**
 * Best coefficient of performance that any machine can have.
 *
 *     COP = Te / (Tk − Te),   absolute temperatures
 *
 * @param evaporator  Te, °C
 * @param condenser   Tk, °C, above the evaporator
 * @returns           dimensionless
 *
 * Source: Carnot; ASHRAE Handbook Fundamentals, chapter 2
 * Truth: test/reference/checks.json (carnot_cop), largest relative error 0.0001
 */
export function carnotPerformance(evaporator: number, condenser: number): number {
  return (evaporator + ZERO_CELSIUS) / (condenser - evaporator);
}

/**
 * Electric watts per kelvin of a box on trial: insulation and machine together.
 *
 *     UA / COP = (P − P_other) / (Ta − Ti)
 *
 * @param power    mean power out of the battery P, W
 * @param other    drawn by other things P_other, W
 * @param ambient  Ta, °C
 * @param inside   Ti, °C, below Ta
 * @returns        W/K
 *
 * Source: `coolingPower` solved for the box
 * Truth: test/reference/checks.json (fridge_ua_over_cop_from_trial_WperK), no error beyond rounding
 */
export function trialConductance(
  power: number,
  other: number,
  ambient: number,
  inside: number,
): number {
  return (power - other) / (ambient - inside);
}

/** A box's surroundings, °C. */
export interface BoxSetting {
  readonly ambient: number;
  readonly inside: number;
}

/**
 * Power of a box in other surroundings than those of its trial.
 *
 *     P2 = P1 (ΔT2 / ΔT1) (COP1 / COP2)
 *
 * with COP a fixed share of Carnot's between a coil colder than the inside and one warmer than the
 * air.
 *
 * @param power            in the trial P1, W
 * @param trial            air and inside in the trial
 * @param trip             air and inside to come
 * @param evaporatorBelow  coil under the inside, K; 14 (common practice)
 * @param condenserAbove   coil over the air, K; 15 (common practice)
 * @returns                W
 *
 * Source: fixed second-law efficiency, as written
 * Truth: test/reference/checks.json (fridge_scaled_power_W), largest relative error 2e-6
 */
export function scaledCoolingPower(
  power: number,
  trial: BoxSetting,
  trip: BoxSetting,
  evaporatorBelow: number,
  condenserAbove: number,
): number {
  const before = carnotPerformance(trial.inside - evaporatorBelow, trial.ambient + condenserAbove);
  const then = carnotPerformance(trip.inside - evaporatorBelow, trip.ambient + condenserAbove);
  const ratio = (trip.ambient - trip.inside) / (trial.ambient - trial.inside);
  return (power * ratio * before) / then;
}

/**
 * Heat to take out of a warm thing.
 *
 *     Q = m c ΔT
 *
 * @param mass          m, kg
 * @param specificHeat  c, J/(kg K)
 * @param warmer        ΔT, K
 * @returns             J; divide by the COP for electricity
 *
 * Source: the definition of specific heat
 * Truth: test/reference/checks.json (cooling_energy_Wh_thermal), largest relative error 3e-6
 */
export function coolingHeat(mass: number, specificHeat: number, warmer: number): number {
  return mass * specificHeat * warmer;
}

/**
 * Heat to take out of water until it is ice of a temperature.
 *
 *     Q = m (c_w T1 + L − c_i T2)
 *
 * @param mass   m, kg
 * @param start  T1, °C, 0 or more
 * @param end    T2, °C, 0 or less
 * @returns      J
 *
 * Source: ASHRAE Handbook Refrigeration, thermal properties of foods
 * Truth: test/reference/checks.json (freezing_energy_Wh_thermal), largest relative error 2e-6
 */
export function freezingHeat(mass: number, start: number, end: number): number {
  return mass * (WATER_HEAT * start + MELTING_HEAT - ICE_HEAT * end);
}
