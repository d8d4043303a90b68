// Cool boxes, radios and chargers against definitions and printed duty factors (see
// test/reference/checks.json).

import { chargerInput, loadCurrent, MODE_DUTY, radioPower } from '../../../engine/physics/loads.ts';
import {
  carnotPerformance,
  compressorDuty,
  coolingHeat,
  coolingPower,
  freezingHeat,
  heatGain,
  insulationConductance,
  scaledCoolingPower,
  trialConductance,
} from '../../../engine/physics/refrigeration.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const gain = (i: Inputs) =>
  heatGain(i.number('UA_WperK'), i.number('ambient_C'), i.number('inside_C'));

checkTopic('7 loads', 20, {
  fridge_heat_gain_W: gain,
  fridge_mean_power_W: (i) => coolingPower(gain(i), i.number('COP'), i.number('electronics_W')),
  fridge_duty_cycle: (i) => compressorDuty(gain(i), i.number('COP'), i.number('compressor_W')),
  carnot_cop: (i) => carnotPerformance(i.number('evaporator_C'), i.number('condenser_C')),
  fridge_ua_over_cop_from_trial_WperK: (i) =>
    trialConductance(
      (i.number('battery_Wh') * i.number('percent_per_hour')) / 100,
      i.number('other_W'),
      i.number('ambient_C'),
      i.number('inside_C'),
    ),
  fridge_scaled_power_W: (i) =>
    scaledCoolingPower(
      i.number('trial_W'),
      { ambient: i.number('trial_ambient_C'), inside: i.number('trial_inside_C') },
      { ambient: i.number('new_ambient_C'), inside: i.number('new_inside_C') },
      i.number('evap_offset_K'),
      i.number('cond_offset_K'),
    ),
  cooling_energy_Wh_thermal: (i) =>
    coolingHeat(
      i.number('mass_kg'),
      i.number('specific_heat_kJ_per_kgK') * 1000,
      i.number('delta_K'),
    ) / 3600,
  freezing_energy_Wh_thermal: (i) =>
    freezingHeat(i.number('mass_kg'), i.number('start_C'), i.number('end_C')) / 3600,
  insulation_UA_WperK: (i) =>
    insulationConductance(
      i.number('area_m2'),
      i.number('conductivity_WmK'),
      i.number('thickness_m'),
    ),
  radio_average_W: (i) =>
    radioPower(
      i.number('receive_W'),
      i.number('transmit_W'),
      i.number('transmit_time_fraction'),
      i.number('mode_duty_factor'),
      i.number('key_down_idle_W'),
    ),
  charger_input_Wh: (i) =>
    chargerInput(
      i.number('battery_mAh') * 3.6,
      i.number('battery_V'),
      i.number('charges'),
      i.number('charge_efficiency'),
    ) / 3600,
  dc_current_A: (i) => loadCurrent(i.number('power_W'), i.number('voltage_V')),
  table_mode_duty_factor: (i) => MODE_DUTY[i.text('mode')] ?? Number.NaN,
});
