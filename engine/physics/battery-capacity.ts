/*
 * What a battery holds, and how cold, haste, age and conversion take from it: one line each. The
 * time step of the store itself is in `battery.ts`. Charge is in coulombs, energy in joules.
 */

/**
 * Energy of a full battery.
 *
 *     E = Q V
 *
 * @param charge   rated Q, C
 * @param voltage  nominal V, V
 * @returns        J
 *
 * Source: the definition
 * Truth: test/reference/checks.json (battery_energy_Wh), no error beyond rounding
 */
export function batteryEnergy(charge: number, voltage: number): number {
  return charge * voltage;
}

/**
 * Energy that reaches the load before the battery must be spared.
 *
 * @param energy      of the full battery, J
 * @param depth       usable share, 0 to 1
 * @param efficiency  of the way out, 0 to 1
 * @returns           J
 *
 * Source: the definition
 * Truth: test/reference/checks.json (usable_energy_Wh), no error beyond rounding
 */
export function usableEnergy(energy: number, depth: number, efficiency = 1): number {
  return energy * depth * efficiency;
}

/**
 * Time that a lead-acid battery lasts at a steady current.
 *
 *     t = H (C / (I H))^k
 *
 * @param charge     rated C, C
 * @param hours      time at which it is rated H, s
 * @param exponent   Peukert's k: flooded 1.2 to 1.3, gel 1.1 to 1.2, AGM 1.05 to 1.15, lithium iron
 *                   phosphate 1.00 to 1.05 (common practice)
 * @param current    I, A, more than 0
 * @returns          s; more than the rated charge below the rated current: do not count on it
 *
 * Source: Peukert, Elektrotechnische Zeitschrift 20 (1897) 287
 * Truth: test/reference/checks.json (peukert_runtime_h, peukert_capacity_Ah), largest relative
 * error 6e-7
 */
export function peukertRuntime(
  charge: number,
  hours: number,
  exponent: number,
  current: number,
): number {
  return hours * (charge / (current * hours)) ** exponent;
}

/**
 * Peukert's exponent from two discharges.
 *
 *     k = ln(t1 / t2) / ln(I2 / I1)
 *
 * @param firstCurrent   I1, A
 * @param firstTime      t1, s
 * @param secondCurrent  I2, A, not I1
 * @param secondTime     t2, s
 * @returns              dimensionless, 1 or more in nature
 *
 * Source: `peukertRuntime` twice
 * Truth: test/reference/checks.json (peukert_exponent), largest relative error 3e-6
 */
export function peukertExponent(
  firstCurrent: number,
  firstTime: number,
  secondCurrent: number,
  secondTime: number,
): number {
  return Math.log(firstTime / secondTime) / Math.log(secondCurrent / firstCurrent);
}

/**
 * Charge or discharge current as a multiple of the rated charge an hour.
 *
 * @param current  A
 * @param charge   rated, C
 * @returns        1/h
 *
 * Source: the definition
 * Truth: test/reference/checks.json (c_rate), no error beyond rounding
 */
export function chargeRate(current: number, charge: number): number {
  return (current * 3600) / charge;
}

/**
 * Share of its capacity that a cold lead-acid battery gives.
 *
 *     f = 1 / cell size factor
 *
 * @param cellSizeFactor  by which a battery must be larger at that temperature: 1.00 at 25 °C,
 *                        1.19 at 10 °C, 1.30 at 4.4 °C, 1.43 at −1.1 °C, 1.52 at −3.9 °C
 * @returns               dimensionless
 *
 * Source: IEEE 485, table 1 (from memory)
 * Truth: test/reference/checks.json (leadacid_capacity_temperature_factor), largest relative error
 * 0.0004
 */
export function coldLeadAcidShare(cellSizeFactor: number): number {
  return 1 / cellSizeFactor;
}

/**
 * State of charge after lying idle.
 *
 *     s = s0 (1 − m)^(t / 30 d)
 *
 * @param start         s0, share
 * @param monthlyShare  lost in 30 days m, 0 to 1
 * @param time          t, s
 * @returns             share
 *
 * Source: compound loss
 * Truth: test/reference/checks.json (soc_after_self_discharge), no error beyond rounding
 */
export function afterSelfDischarge(start: number, monthlyShare: number, time: number): number {
  return start * (1 - monthlyShare) ** (time / (30 * 86_400));
}

/**
 * Time to put a charge back at a steady current.
 *
 *     t = Q / (I η)
 *
 * @param charge      missing Q, C
 * @param current     I, A
 * @param efficiency  charge out over charge in η, 0 to 1
 * @returns           s
 *
 * Source: the definition
 * Truth: test/reference/checks.json (recharge_hours_cc), largest relative error 5e-7
 */
export function rechargeTime(charge: number, current: number, efficiency: number): number {
  return charge / (current * efficiency);
}

/**
 * Energy from the battery for a load behind an inverter.
 *
 *     E = E_load / η + P_idle t
 *
 * @param load        E_load, J
 * @param efficiency  of the inverter η, 0 to 1
 * @param idle        P_idle, W
 * @param time        switched on t, s
 * @returns           J
 *
 * Source: the definition
 * Truth: test/reference/checks.json (ac_load_battery_Wh), largest relative error 2e-6
 */
export function inverterDraw(load: number, efficiency: number, idle: number, time: number): number {
  return load / efficiency + idle * time;
}

/**
 * Share of the last of a charge that is in after a while at constant voltage.
 *
 *     f = 1 − exp(−t / τ)
 *
 * @param time      t, s
 * @param constant  τ, s
 * @returns         0 to 1
 *
 * Source: exponential decay of the charging current
 * Truth: test/reference/checks.json (taper_charge_fraction), largest relative error 2e-7
 */
export function taperShare(time: number, constant: number): number {
  return -Math.expm1(-time / constant);
}

/**
 * How long a store lasts when the load is larger than the harvest.
 *
 * @param energy   usable, J
 * @param load     W
 * @param harvest  W
 * @returns        s; infinite when the harvest covers the load
 *
 * Source: the definition
 * Truth: test/reference/checks.json (autonomy_days), no error beyond rounding
 */
export function autonomy(energy: number, load: number, harvest: number): number {
  return load > harvest ? energy / (load - harvest) : Number.POSITIVE_INFINITY;
}

/**
 * Current that a converter draws.
 *
 *     I_in = I_out V_out / (V_in η)
 *
 * @param outputCurrent  I_out, A
 * @param outputVoltage  V_out, V
 * @param inputVoltage   V_in, V
 * @param efficiency     η, 0 to 1
 * @returns              A
 *
 * Source: balance of power
 * Truth: test/reference/checks.json (dcdc_input_current_A), largest relative error 4e-7
 */
export function converterInput(
  outputCurrent: number,
  outputVoltage: number,
  inputVoltage: number,
  efficiency: number,
): number {
  return (outputCurrent * outputVoltage) / (inputVoltage * efficiency);
}
