// Radio noise against Recommendations of the ITU and the IARU and against arithmetic done elsewhere
// (see test/reference/checks.json).

import {
  addLevels,
  dayShare,
  distanceLoss,
  type Environment,
  EXTERNAL_NOISE,
  interfererLevel,
  levelVoltage,
  meterLevel,
  nearFieldEnd,
  noiseField,
  noiseFigure,
  noisePower,
  noiseRise,
  powerForRise,
  rangeForRise,
} from '../../../engine/physics/radio-noise.ts';
import { checkTopic } from './reference-checks.ts';

/** The table's names of environments that have another name here. */
const NAMES: Readonly<Record<string, Environment>> = {
  'city/business': 'city',
  residential: 'residential',
  rural: 'rural',
  'quiet rural': 'quiet rural',
  galactic: 'galactic',
};

checkTopic('8 radio noise', 37, {
  s_meter_dBm: (i) =>
    meterLevel(i.number('s_units'), i.number('db_over_s9'), i.text('band') === 'HF' ? 7e6 : 145e6),
  dbm_to_uV_50ohm: (i) => levelVoltage(i.number('power_dBm')) * 1e6,
  p372_median_noise_figure_dB: (i) =>
    noiseFigure(
      { constant: i.number('c'), decade: i.number('d') },
      i.number('frequency_MHz') * 1e6,
    ),
  table_p372_c: (i) => {
    const name = NAMES[i.text('environment')];
    return name === undefined ? Number.NaN : EXTERNAL_NOISE[name].constant;
  },
  noise_power_dBm: (i) => noisePower(i.number('noise_figure_dB'), i.number('bandwidth_Hz')),
  field_strength_dBuVm: (i) =>
    noiseField(
      i.number('noise_figure_dB'),
      i.number('frequency_MHz') * 1e6,
      i.number('bandwidth_Hz'),
    ),
  add_powers_dBm: (i) => addLevels(i.list('levels_dBm')),
  noise_rise_dB: (i) => noiseRise(i.number('background_dBm'), i.number('interferer_dBm')),
  interferer_from_rise_dBm: (i) =>
    interfererLevel(i.number('total_dBm'), i.number('background_dBm')),
  distance_attenuation_dB: (i) =>
    distanceLoss(i.number('near_m'), i.number('far_m'), i.number('exponent')),
  near_field_boundary_m: (i) => nearFieldEnd(i.number('frequency_MHz') * 1e6),
  power_multiplier_for_rise: (i) => powerForRise(i.number('rise_dB')),
  range_factor_for_rise: (i) => rangeForRise(i.number('rise_dB'), i.number('path_exponent')),
  unplug_energy_fraction_clear_day: (i) =>
    dayShare(
      i.number('day_length_h') * 3600,
      i.number('start_h_from_noon') * 3600,
      i.number('end_h_from_noon') * 3600,
    ),
});
