// The sun's place, refraction, equation of time, sunrise and sunset against published examples and
// astronomical libraries (see test/reference/checks.json).

import {
  cooperDeclination,
  geocentricSun,
  refraction,
  solarElevation,
  solarPosition,
  spencerEquationOfTime,
  sunriseSunset,
  sunsetHourAngle,
} from '../../../engine/physics/solar-position.ts';
import { julianDay } from '../../../engine/physics/time.ts';
import { angleOfIncidence } from '../../../engine/physics/transposition.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const DEGREE = Math.PI / 180;

const position = (i: Inputs) =>
  solarPosition(i.moment('utc'), i.angle('lat_deg'), i.angle('lon_deg'));

/** Times of the local date: its noon by the mean sun, found from the longitude. */
const times = (i: Inputs) => {
  const noon = i.moment('date') + 43_200 - i.number('lon_deg') * 240;
  return sunriseSunset(noon, i.angle('lat_deg'), i.angle('lon_deg'));
};

checkTopic('1 sun', 58, {
  sun_elevation_airless_deg: (i) => position(i).elevation / DEGREE,
  sun_azimuth_deg: (i) => position(i).azimuth / DEGREE,
  sun_zenith_refracted_deg: (i) => {
    const { elevation } = position(i);
    const lift = refraction(elevation, i.number('pressure_mbar') * 100, i.number('temperature_C'));
    return 90 - (elevation + lift) / DEGREE;
  },
  angle_of_incidence_deg: (i) =>
    angleOfIncidence(
      Math.PI / 2 - i.angle('zenith_deg'),
      i.angle('azimuth_deg'),
      i.angle('tilt_deg'),
      i.angle('surface_azimuth_deg'),
    ) / DEGREE,
  sun_distance_AU: (i) => geocentricSun(i.moment('utc')).distance,
  julian_day: (i) => julianDay(i.moment('utc')),
  sun_declination_deg: (i) => geocentricSun(i.moment('utc')).declination / DEGREE,
  equation_of_time_min: (i) => geocentricSun(i.moment('utc')).equationOfTime / 60,
  sunrise_min_after_0h_UTC: (i) => (times(i).rise - i.moment('date')) / 60,
  sunset_min_after_0h_UTC: (i) => (times(i).set - i.moment('date')) / 60,
  day_length_min: (i) => (times(i).set - times(i).rise) / 60,
  refraction_deg: (i) =>
    refraction(
      i.angle('true_elevation_deg'),
      i.number('pressure_mbar') * 100,
      i.number('temperature_C'),
    ) / DEGREE,
  declination_cooper_deg: (i) => cooperDeclination(i.number('day_of_year')) / DEGREE,
  zenith_deg: (i) =>
    90 -
    solarElevation(i.angle('lat_deg'), i.angle('declination_deg'), i.angle('hour_angle_deg')) /
      DEGREE,
  sunset_hour_angle_deg: (i) =>
    sunsetHourAngle(i.angle('lat_deg'), i.angle('declination_deg')) / DEGREE,
  eot_spencer_min: (i) => spencerEquationOfTime(i.number('day_of_year')) / 60,
});
