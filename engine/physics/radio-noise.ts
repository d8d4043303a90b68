/*
 * Radio noise: what the surroundings give a receiver anyway, how an interferer adds to it, what the
 * rise costs a listener and how it falls with distance. Levels are points in dBm, ratios in dB,
 * frequencies in Hz. Addition is of powers, never of levels.
 */

import { BOLTZMANN, SPEED_OF_LIGHT } from './constants.ts';

/** Where the antenna stands. */
export type Environment = 'city' | 'residential' | 'rural' | 'quiet rural' | 'galactic';

/** Median noise figure c − d log10(f / MHz), dB, and the frequencies it holds for, Hz. */
export interface ExternalNoiseLaw {
  readonly constant: number;
  readonly decade: number;
  readonly from: number;
  readonly until: number;
}

/** Source: Recommendation ITU-R P.372, man-made and galactic noise (from memory). */
export const EXTERNAL_NOISE: Readonly<Record<Environment, ExternalNoiseLaw>> = {
  city: { constant: 76.8, decade: 27.7, from: 0.3e6, until: 250e6 },
  residential: { constant: 72.5, decade: 27.7, from: 0.3e6, until: 250e6 },
  rural: { constant: 67.2, decade: 27.7, from: 0.3e6, until: 250e6 },
  'quiet rural': { constant: 53.6, decade: 28.6, from: 0.3e6, until: 30e6 },
  galactic: { constant: 52, decade: 23, from: 10e6, until: 100e6 },
};

/** Reference temperature of noise figures, K. Source: Recommendation ITU-R P.372. */
const REFERENCE_TEMPERATURE = 290;

/** Level of a receiver's S9, dBm, below and above 30 MHz. Source: IARU Region 1, R.1. */
const S9_LOW = -73;
const S9_HIGH = -93;

/**
 * Median noise figure of an environment.
 *
 *     Fa = c − d log10(f / MHz)
 *
 * @param law        c and d
 * @param frequency  f, Hz, more than 0
 * @returns          dB over k T0 b
 *
 * Source: Recommendation ITU-R P.372 (from memory); a quarter of the time it is 6 to 11 dB worse
 * Truth: test/reference/checks.json (p372_median_noise_figure_dB), largest error 5e-5 dB
 */
export function noiseFigure(
  law: Pick<ExternalNoiseLaw, 'constant' | 'decade'>,
  frequency: number,
): number {
  return law.constant - law.decade * Math.log10(frequency / 1e6);
}

/**
 * Noise power of a bandwidth.
 *
 *     P = 10 log10(k T0 b / 1 mW) + Fa
 *
 * @param figure     Fa, dB
 * @param bandwidth  b, Hz, more than 0
 * @returns          dBm; −174.0 dBm for 0 dB and 1 Hz
 *
 * Source: Recommendation ITU-R P.372; k exact in the SI
 * Truth: test/reference/checks.json (noise_power_dBm), largest error 0.0005 dBm
 */
export function noisePower(figure: number, bandwidth: number): number {
  return 10 * Math.log10(BOLTZMANN * REFERENCE_TEMPERATURE * bandwidth * 1000) + figure;
}

/**
 * Median noise that a short lossless antenna picks up.
 *
 * @param environment  where it stands
 * @param frequency    Hz, inside the law's range
 * @param bandwidth    Hz, more than 0
 * @returns            dBm; NaN outside 0.3 to 250 MHz (quiet rural to 30, galactic 10 to 100 MHz)
 *
 * At night below 10 MHz thunderstorms govern, 10 to 30 dB above quiet rural.
 * Source: Recommendation ITU-R P.372 (from memory)
 * Truth: test/reference/checks.json (noise_power_dBm, p372_*), largest error 5e-5 dB and largest
 * error 0.0005 dBm
 */
export function externalNoise(
  environment: Environment,
  frequency: number,
  bandwidth: number,
): number {
  const law = EXTERNAL_NOISE[environment];
  if (frequency < law.from || frequency > law.until) return Number.NaN;
  return noisePower(noiseFigure(law, frequency), bandwidth);
}

/**
 * Field strength of the noise at a short monopole on perfect ground.
 *
 *     E = Fa + 20 log10(f / MHz) + 10 log10(b / Hz) − 95.5
 *
 * @param figure     Fa, dB
 * @param frequency  f, Hz
 * @param bandwidth  b, Hz
 * @returns          dB over 1 µV/m
 *
 * Source: Recommendation ITU-R P.372, section 2 (from memory)
 * Truth: test/reference/checks.json (field_strength_dBuVm), largest error 7e-7 dB(uV/m)
 */
export function noiseField(figure: number, frequency: number, bandwidth: number): number {
  return figure + 20 * Math.log10(frequency / 1e6) + 10 * Math.log10(bandwidth) - 95.5;
}

/**
 * Level that a calibrated S meter stands for.
 *
 *     P = S9 + 6 dB (s − 9) + over
 *
 * @param units      s, 0 to 9
 * @param over       dB over S9
 * @param frequency  Hz; S9 is −73 dBm below 30 MHz and −93 dBm above
 * @param step       dB a unit; 6 by the recommendation, 2 to 4 in many meters below S5
 * @returns          dBm
 *
 * Source: IARU Region 1, Technical Recommendation R.1 (1981, 1990)
 * Truth: test/reference/checks.json (s_meter_dBm), no error beyond rounding
 */
export function meterLevel(units: number, over: number, frequency: number, step = 6): number {
  return (frequency < 30e6 ? S9_LOW : S9_HIGH) + step * (units - 9) + over;
}

/**
 * Voltage of a level across a resistance.
 *
 *     U = √(P R)
 *
 * @param level       dBm
 * @param resistance  R, Ω; 50 in radio
 * @returns           V, effective
 *
 * Source: the definition of dBm
 * Truth: test/reference/checks.json (dbm_to_uV_50ohm), largest relative error 2e-5
 */
export function levelVoltage(level: number, resistance = 50): number {
  return Math.sqrt(milliwatts(level) * 1e-3 * resistance);
}

/** A level in mW. Source: the definition of dBm. Truth: within `addLevels`. */
export function milliwatts(level: number): number {
  return 10 ** (level / 10);
}

/**
 * Level of several powers together.
 *
 *     P = 10 log10 Σ 10^(Pi / 10)
 *
 * @param levels  dBm, one or more
 * @returns       dBm; −∞ for none
 *
 * Source: powers that are not coherent add
 * Truth: test/reference/checks.json (add_powers_dBm), largest error 2e-6 dBm
 */
export function addLevels(levels: readonly number[]): number {
  let sum = 0;
  for (const level of levels) sum += milliwatts(level);
  return 10 * Math.log10(sum);
}

/**
 * What an interferer adds to a background.
 *
 *     Δ = 10 log10(1 + 10^((I − B) / 10))
 *
 * @param background  B, dBm
 * @param interferer  I, dBm
 * @returns           dB
 *
 * Source: `addLevels` less the background
 * Truth: test/reference/checks.json (noise_rise_dB), largest error 3e-6 dB
 */
export function noiseRise(background: number, interferer: number): number {
  return 10 * Math.log10(1 + milliwatts(interferer - background));
}

/**
 * Level of an interferer from readings with and without it.
 *
 *     I = 10 log10(10^(T / 10) − 10^(B / 10))
 *
 * @param total       with it T, dBm, above B
 * @param background  without it B, dBm
 * @returns           dBm; NaN when the total lies below the background
 *
 * Source: `addLevels` solved for one part
 * Truth: test/reference/checks.json (interferer_from_rise_dBm), largest error 3e-5 dBm
 */
export function interfererLevel(total: number, background: number): number {
  return 10 * Math.log10(milliwatts(total) - milliwatts(background));
}

/**
 * How far a field falls between two distances.
 *
 *     Δ = 20 n log10(r2 / r1)
 *
 * @param near      r1, m
 * @param far       r2, m
 * @param exponent  n: 1 far away, 3 close by; long leads are antennas, so often 1 to 2
 * @returns         dB
 *
 * Source: field ∝ r^−n
 * Truth: test/reference/checks.json (distance_attenuation_dB), largest error 3e-7 dB
 */
export function distanceLoss(near: number, far: number, exponent: number): number {
  return 20 * exponent * Math.log10(far / near);
}

/**
 * Distance at which a source's near field ends.
 *
 *     r = λ / 2π
 *
 * @param frequency  Hz
 * @returns          m
 *
 * Source: Hertz' dipole
 * Truth: test/reference/checks.json (near_field_boundary_m), largest relative error 7e-7
 */
export function nearFieldEnd(frequency: number): number {
  return SPEED_OF_LIGHT / (2 * Math.PI * frequency);
}

/**
 * How many times the power a station needs to be heard as before.
 *
 *     x = 10^(Δ / 10)
 *
 * @param rise  of the noise Δ, dB
 * @returns     dimensionless
 *
 * Source: equal signal-to-noise ratio
 * Truth: test/reference/checks.json (power_multiplier_for_rise), largest relative error 3e-6
 */
export function powerForRise(rise: number): number {
  return 10 ** (rise / 10);
}

/**
 * Share of its range at which a station is heard as before.
 *
 *     x = 10^(−Δ / (10 n))
 *
 * @param rise      of the noise Δ, dB
 * @param exponent  of the path n: 2 in free space, 4 along the ground
 * @returns         dimensionless, 0 to 1
 *
 * Source: equal signal-to-noise ratio with power ∝ r^−n
 * Truth: test/reference/checks.json (range_factor_for_rise), largest relative error 5e-7
 */
export function rangeForRise(rise: number, exponent: number): number {
  return 10 ** (-rise / (10 * exponent));
}

/**
 * Share of a clear day's harvest that falls into some hours.
 *
 *     f = (sin(π t2 / D) − sin(π t1 / D)) / 2
 *
 * @param dayLength  D, s
 * @param from       t1, s from solar noon, −D/2 to D/2
 * @param until      t2, s from solar noon, not before `from`
 * @returns          0 to 1
 *
 * Source: a half sine for the day
 * Truth: test/reference/checks.json (unplug_energy_fraction_clear_day), largest relative error 2e-6
 */
export function dayShare(dayLength: number, from: number, until: number): number {
  const turn = Math.PI / dayLength;
  return (Math.sin(turn * until) - Math.sin(turn * from)) / 2;
}
