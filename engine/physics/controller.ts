/*
 * Between panel and battery: what a charge controller passes on, and what the lead before it eats.
 */

/**
 * Power of a tracking controller at the battery.
 *
 *     P = min(η P_pv, I_max V_bat)
 *
 * @param panelPower      P_pv, W
 * @param efficiency      η, dimensionless, 0 to 1; 0.93 to 0.98 (common practice)
 * @param mostCurrent     largest charging current I_max, A
 * @param batteryVoltage  V_bat, V
 * @returns               W
 *
 * Source: the limits of a data sheet
 * Truth: test/reference/checks.json (controller_output_W), no error beyond rounding
 */
export function controllerOutput(
  panelPower: number,
  efficiency: number,
  mostCurrent: number,
  batteryVoltage: number,
): number {
  return Math.min(panelPower * efficiency, mostCurrent * batteryVoltage);
}

/**
 * What a switching (PWM) controller gives over what a tracking one gives.
 *
 *     ratio = I_sc V_bat / (η P_mp)
 *
 * @param shortCurrent    I_sc, A
 * @param batteryVoltage  V_bat, V
 * @param bestPower       P_mp, W, more than 0
 * @param efficiency      of the tracking controller η, more than 0 to 1
 * @returns               dimensionless
 *
 * A PWM controller holds the panel at the battery's voltage; its current there is close to I_sc.
 * Source: the definition
 * Truth: test/reference/checks.json (pwm_to_mppt_ratio), no error beyond rounding
 */
export function switchingToTracking(
  shortCurrent: number,
  batteryVoltage: number,
  bestPower: number,
  efficiency: number,
): number {
  return (shortCurrent * batteryVoltage) / (bestPower * efficiency);
}

/**
 * Power left at the far end of a lead when the panel is held at its voltage.
 *
 *     P' = P − (P / V)² R
 *
 * @param panelPower      P, W
 * @param panelVoltage    V, V, more than 0
 * @param loopResistance  of both conductors R, Ω
 * @returns               W
 *
 * Source: Joule
 * Truth: test/reference/checks.json (array_power_after_cable_W), largest relative error 3e-7
 */
export function powerAfterLead(
  panelPower: number,
  panelVoltage: number,
  loopResistance: number,
): number {
  return panelPower - (panelPower / panelVoltage) ** 2 * loopResistance;
}
