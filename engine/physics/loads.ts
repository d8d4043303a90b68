/*
 * What a radio and small chargers draw on average.
 */

/**
 * Share of its key-down power that a mode of emission draws on average.
 *
 * Source: FCC OET Bulletin 65, Supplement B (1997), table of duty factors (from memory). They were
 * made for exposure; a transmitter's idle draw with the key down comes on top.
 */
export const MODE_DUTY: Readonly<Record<string, number>> = {
  'SSB conversational, no processing': 0.2,
  'SSB conversational, with speech processing': 0.4,
  'CW conversational': 0.4,
  'FM voice': 1,
  'FSK/AFSK data': 1,
  'AM voice, 50 % modulation': 0.5,
  'AM voice, 100 % modulation': 0.3,
  'carrier for tuning': 1,
};

/**
 * Mean power of a transceiver.
 *
 *     P = P_rx (1 − f) + f (P_idle + D (P_tx − P_idle))
 *
 * @param receive   P_rx, W
 * @param transmit  at full output P_tx, W
 * @param onAir     share of the time with the key down f, 0 to 1
 * @param duty      of the mode D, 0 to 1
 * @param idle      key down without modulation P_idle, W
 * @returns         W
 *
 * Source: the definition
 * Truth: test/reference/checks.json (radio_average_W), no error beyond rounding
 */
export function radioPower(
  receive: number,
  transmit: number,
  onAir: number,
  duty: number,
  idle: number,
): number {
  return receive * (1 - onAir) + onAir * (idle + duty * (transmit - idle));
}

/**
 * Energy into a charger for some charges of a small battery.
 *
 * @param charge      of the battery, C
 * @param voltage     of the battery, V
 * @param times       charges
 * @param efficiency  battery over socket, more than 0 to 1
 * @returns           J
 *
 * Source: the definition
 * Truth: test/reference/checks.json (charger_input_Wh), largest relative error 3e-7
 */
export function chargerInput(
  charge: number,
  voltage: number,
  times: number,
  efficiency: number,
): number {
  return (charge * voltage * times) / efficiency;
}

/**
 * Current of a load.
 *
 * @param power    W
 * @param voltage  V, more than 0
 * @returns        A
 *
 * Source: the definition of power
 * Truth: test/reference/checks.json (dc_current_A), largest relative error 4e-7
 */
export function loadCurrent(power: number, voltage: number): number {
  return power / voltage;
}
