// Light above the air, through a clear sky, under clouds and on a tilted plane against published
// examples and two independent computations (see test/reference/checks.json).

import {
  airMass,
  ashraeClearSky,
  birdHulstrom,
  haurwitz,
  hottelBeamTransmittance,
  ineichenPerez,
  kastenCzeplakClear,
  meinelBeam,
  standardPressure,
} from '../../../engine/physics/clear-sky.ts';
import {
  erbsDiffuseFraction,
  kastenCzeplakCloudFactor,
  kastenCzeplakDiffuseFraction,
} from '../../../engine/physics/clouds.ts';
import {
  clearDayCeiling,
  dailyExtraterrestrial,
  faoDailyExtraterrestrial,
  faoDaylight,
  faoDeclination,
  faoPartialExtraterrestrial,
  faoPressure,
  irradiationFromSunshine,
  irradiationFromTemperature,
  partialExtraterrestrial,
  simpleDistanceFactor,
} from '../../../engine/physics/daily-irradiation.ts';
import {
  cooperDeclination,
  solarAzimuth,
  solarElevation,
  sunsetHourAngle,
} from '../../../engine/physics/solar-position.ts';
import {
  angleOfIncidence,
  ashraeModifier,
  beamRatio,
  glassModifier,
  groundReflected,
  hayDaviesSky,
  isotropicSky,
  martinRuizModifier,
  perezSky,
  tiltedHdkr,
  tiltedIsotropic,
} from '../../../engine/physics/transposition.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const elevation = (i: Inputs) => Math.PI / 2 - i.angle('zenith_deg');

const clearSky = (i: Inputs) =>
  ineichenPerez(
    elevation(i),
    i.number('altitude_m'),
    i.number('linke_turbidity'),
    i.number('extraterrestrial_Wm2'),
  );

const ashrae = (i: Inputs, edition: 2009 | 2013) =>
  ashraeClearSky(
    elevation(i),
    i.number('tau_b'),
    i.number('tau_d'),
    i.number('extraterrestrial_Wm2'),
    edition,
  );

const bird = (i: Inputs) =>
  birdHulstrom(
    elevation(i),
    {
      pressure: i.number('pressure_hPa') * 100,
      ozone: i.number('ozone_cm') / 100,
      water: i.number('water_cm') / 100,
      depth500: i.number('tau500'),
      depth380: i.number('tau380'),
      albedo: i.number('albedo'),
    },
    i.number('extraterrestrial_Wm2'),
  );

/** Declination and distance of Duffie & Beckman's examples: Cooper and one cosine. */
const outsideNormal = (i: Inputs) =>
  i.number('solar_constant_Wm2') * simpleDistanceFactor(i.number('day_of_year'));

const sunshineShare = (i: Inputs) =>
  i.number('sunshine_hours') / (faoDaylight(i.angle('lat_deg'), i.number('day_of_year')) / 3600);

checkTopic('2 irradiance', 89, {
  fao56_Ra_MJm2day: (i) =>
    faoDailyExtraterrestrial(i.angle('lat_deg'), i.number('day_of_year')) / 1e6,
  fao56_inverse_relative_distance: (i) => simpleDistanceFactor(i.number('day_of_year')),
  fao56_declination_rad: (i) => faoDeclination(i.number('day_of_year')),
  fao56_sunset_hour_angle_rad: (i) =>
    sunsetHourAngle(i.angle('lat_deg'), faoDeclination(i.number('day_of_year'))),
  fao56_daylight_hours: (i) => faoDaylight(i.angle('lat_deg'), i.number('day_of_year')) / 3600,
  fao56_Rs_MJm2day: (i) =>
    irradiationFromSunshine(
      faoDailyExtraterrestrial(i.angle('lat_deg'), i.number('day_of_year')) / 1e6,
      sunshineShare(i),
    ),
  fao56_Rso_MJm2day: (i) => clearDayCeiling(i.number('Ra_MJm2day'), i.number('altitude_m')),
  fao56_Rs_from_temperature_MJm2day: (i) =>
    irradiationFromTemperature(
      i.number('Ra_MJm2day'),
      i.number('Tmax_C'),
      i.number('Tmin_C'),
      i.number('k_Rs'),
    ),
  fao56_pressure_kPa: (i) => faoPressure(i.number('altitude_m')) / 1000,
  fao56_Ra_hourly_MJm2h: (i) =>
    faoPartialExtraterrestrial(
      i.angle('lat_deg'),
      i.angle('lon_deg_W') - i.angle('zone_meridian_deg_W'),
      i.number('day_of_year'),
      i.number('local_time_midpoint_h') * 3600,
      3600,
    ) / 1e6,
  daily_extraterrestrial_MJm2: (i) =>
    dailyExtraterrestrial(
      i.angle('lat_deg'),
      cooperDeclination(i.number('day_of_year')),
      outsideNormal(i),
    ) / 1e6,
  hourly_extraterrestrial_MJm2: (i) => {
    const from = ((i.number('solar_time_start_h') - 12) * Math.PI) / 12;
    return (
      partialExtraterrestrial(
        i.angle('lat_deg'),
        cooperDeclination(i.number('day_of_year')),
        outsideNormal(i),
        from,
        from + Math.PI / 12,
      ) / 1e6
    );
  },
  angle_of_incidence_deg: (i) =>
    (angleOfIncidence(
      elevation(i),
      i.angle('azimuth_deg'),
      i.angle('tilt_deg'),
      i.angle('surface_azimuth_deg'),
    ) *
      180) /
    Math.PI,
  beam_ratio_Rb: (i) => {
    const sun = [
      i.angle('lat_deg'),
      i.angle('declination_deg'),
      i.angle('hour_angle_deg'),
    ] as const;
    const height = solarElevation(...sun);
    const incidence = angleOfIncidence(height, solarAzimuth(...sun), i.angle('tilt_deg'), Math.PI);
    return beamRatio(incidence, height);
  },
  erbs_diffuse_fraction: (i) => erbsDiffuseFraction(i.number('clearness_index')),
  tilted_isotropic_MJm2: (i) =>
    tiltedIsotropic(
      i.number('beam_h'),
      i.number('diffuse_h'),
      i.number('Rb'),
      i.angle('tilt_deg'),
      i.number('albedo'),
    ),
  tilted_hdkr_MJm2: (i) =>
    tiltedHdkr(
      i.number('beam_h'),
      i.number('diffuse_h'),
      i.number('extraterrestrial_h'),
      i.number('Rb'),
      i.angle('tilt_deg'),
      i.number('albedo'),
    ),
  hottel_beam_transmittance: (i) =>
    hottelBeamTransmittance(elevation(i), i.number('altitude_km') * 1000, {
      constant: i.number('r0'),
      scale: i.number('r1'),
      decay: i.number('rk'),
    }),
  airmass_kasten_young: (i) => airMass(Math.PI / 2 - i.angle('apparent_zenith_deg')),
  pressure_isa_hPa: (i) => standardPressure(i.number('altitude_m')) / 100,
  haurwitz_ghi_Wm2: (i) => haurwitz(elevation(i)),
  kasten_czeplak_clear_ghi_Wm2: (i) => kastenCzeplakClear(i.angle('elevation_deg')),
  kasten_czeplak_cloud_factor: (i) => kastenCzeplakCloudFactor(i.number('okta') / 8),
  kasten_czeplak_diffuse_fraction: (i) => kastenCzeplakDiffuseFraction(i.number('okta') / 8),
  ineichen_perez_ghi_Wm2: (i) => clearSky(i).ghi,
  ineichen_perez_dni_Wm2: (i) => clearSky(i).dni,
  ineichen_perez_dhi_Wm2: (i) => clearSky(i).dhi,
  ashrae2009_beam_Wm2: (i) => ashrae(i, 2009).dni,
  ashrae2009_diffuse_Wm2: (i) => ashrae(i, 2009).dhi,
  ashrae2013_beam_Wm2: (i) => ashrae(i, 2013).dni,
  ashrae2013_diffuse_Wm2: (i) => ashrae(i, 2013).dhi,
  meinel_dni_Wm2: (i) => meinelBeam(i.number('airmass')),
  bird_dni_Wm2: (i) => bird(i).dni,
  bird_ghi_Wm2: (i) => bird(i).ghi,
  sky_diffuse_perez_Wm2: (i) =>
    perezSky(
      i.number('dhi_Wm2'),
      i.number('dni_Wm2'),
      i.number('extraterrestrial_Wm2'),
      i.angle('aoi_deg'),
      elevation(i),
      airMass(elevation(i)),
      i.angle('tilt_deg'),
    ),
  sky_diffuse_hay_davies_Wm2: (i) =>
    hayDaviesSky(
      i.number('dhi_Wm2'),
      i.number('dni_Wm2'),
      i.number('extraterrestrial_Wm2'),
      i.angle('aoi_deg'),
      elevation(i),
      i.angle('tilt_deg'),
    ),
  sky_diffuse_isotropic_Wm2: (i) => isotropicSky(i.number('dhi_Wm2'), i.angle('tilt_deg')),
  ground_reflected_Wm2: (i) =>
    groundReflected(i.number('ghi_Wm2'), i.number('albedo'), i.angle('tilt_deg')),
  iam_ashrae: (i) => ashraeModifier(Math.cos(i.angle('aoi_deg')), i.number('b0')),
  iam_martin_ruiz: (i) => martinRuizModifier(i.angle('aoi_deg'), i.number('a_r')),
  iam_physical: (i) => glassModifier(i.angle('aoi_deg'), i.number('n'), i.number('KL')),
});
