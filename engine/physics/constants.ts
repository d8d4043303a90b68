/*
 * The numbers nature and the standards fix, each once. All of `physics/` counts in SI units and
 * radians, with one exception that its readers share: temperatures are points in degrees Celsius,
 * because every source used here prints them so; a temperature difference is in kelvin.
 */

/** One degree, rad. */
export const DEGREE = Math.PI / 180;

/** Seconds in a day of 24 hours. */
export const DAY = 86_400;

/** Seconds in an hour; also joules in a watt-hour. */
export const HOUR = 3_600;

/** 0 °C on the absolute scale, K. Source: SI Brochure, 9th edition (2019). */
export const ZERO_CELSIUS = 273.15;

/** Boltzmann constant, J/K, exact. Source: SI Brochure, 9th edition (2019). */
export const BOLTZMANN = 1.380649e-23;

/** Speed of light, m/s, exact. Source: SI Brochure, 9th edition (2019). */
export const SPEED_OF_LIGHT = 299_792_458;

/** Pressure of the standard atmosphere at sea level, Pa. Source: ICAO Doc 7488. */
export const STANDARD_PRESSURE = 101_325;

/**
 * Irradiance of the sun at one astronomical unit, W/m².
 * Source: Kopp & Lean, Geophysical Research Letters 38 (2011) L01706: 1360.8 ± 0.5 (from memory).
 * Older work has 1366.1 (ASTM E490-00a) and 1367 (World Meteorological Organization, 1981).
 */
export const SOLAR_CONSTANT = 1361;

/** Apparent radius of the sun's disc, rad. Source: Astronomical Almanac, 16 minutes of arc. */
export const SUN_RADIUS = 0.27 * DEGREE;
