// Panels and controllers against data-sheet models and the single-diode model solved elsewhere by
// bisection and by Lambert's W (see test/reference/checks.json).

import {
  controllerOutput,
  powerAfterLead,
  switchingToTracking,
} from '../../../engine/physics/controller.ts';
import {
  cellTemperatureFaiman,
  cellTemperatureNominal,
  cellTemperatureRoss,
  diodeBestPoint,
  diodeCurrent,
  openVoltageAt,
  panelPower,
} from '../../../engine/physics/module.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const diode = (i: Inputs) => ({
  lightCurrent: i.number('photocurrent_A'),
  saturationCurrent: i.number('saturation_A'),
  series: i.number('Rs_ohm'),
  shunt: i.number('Rsh_ohm'),
  slope: i.number('nNsVth_V'),
});

checkTopic('4 pv', 20, {
  cell_temperature_noct_C: (i) =>
    cellTemperatureNominal(i.number('ambient_C'), i.number('irradiance_Wm2'), i.number('NOCT_C')),
  cell_temperature_ross_C: (i) =>
    cellTemperatureRoss(i.number('ambient_C'), i.number('irradiance_Wm2'), i.number('k_Km2perW')),
  cell_temperature_faiman_C: (i) =>
    cellTemperatureFaiman(i.number('ambient_C'), i.number('irradiance_Wm2'), i.number('wind_ms')),
  pv_power_W: (i) =>
    panelPower(
      i.number('rated_W'),
      i.number('irradiance_Wm2'),
      i.number('cell_C'),
      i.number('gamma_perK'),
    ),
  voc_at_temperature_V: (i) =>
    openVoltageAt(
      i.number('voc_stc_V'),
      i.number('beta_perK'),
      i.number('cell_C'),
      i.number('n_series'),
    ),
  // The printed factor takes the place of the linear model at 25 °C.
  voc_nec_factor_V: (i) =>
    openVoltageAt(i.number('voc_stc_V'), 0, 25, i.number('n_series')) * i.number('factor'),
  single_diode_current_A: (i) => diodeCurrent(diode(i), i.number('voltage_V')),
  single_diode_pmp_W: (i) => diodeBestPoint(diode(i)).power,
  single_diode_vmp_V: (i) => diodeBestPoint(diode(i)).voltage,
  pwm_to_mppt_ratio: (i) =>
    switchingToTracking(
      i.number('isc_A'),
      i.number('battery_V'),
      i.number('pmp_W'),
      i.number('mppt_efficiency'),
    ),
  controller_output_W: (i) =>
    controllerOutput(
      i.number('pv_W'),
      i.number('efficiency'),
      i.number('max_charge_A'),
      i.number('battery_V'),
    ),
  array_power_after_cable_W: (i) =>
    powerAfterLead(i.number('pv_W'), i.number('voltage_V'), i.number('loop_resistance_ohm')),
});
