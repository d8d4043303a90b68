// Wires, drops, ampacities and fuses against printed tables (see test/reference/checks.json).

import {
  ambientFactor,
  ampacity,
  areaForConductivity,
  awgArea,
  awgDiameter,
  cableLoss,
  circularMils,
  conductorResistance,
  copperResistance,
  copperResistanceFrom20,
  copperResistanceFrom75,
  leastArea,
  leastAreaBoats,
  nextFuse,
  panelCircuitCurrent,
  panelLeadAmpacity,
  shortCircuitCurrent,
  voltageDrop,
} from '../../../engine/physics/conductor.ts';
import { NEC_TABLE_8 } from '../../../engine/physics/conductor-tables.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const FOOT = 0.3048;

const temperature = (i: Inputs) => (i.has('temperature_C') ? i.number('temperature_C') : 20);
const area = (i: Inputs) => i.number('area_mm2') * 1e-6;
const drop = (i: Inputs) =>
  voltageDrop(
    i.number('current_A'),
    i.number('one_way_length_m'),
    i.number('resistance_ohm_per_km') / 1000,
  );
const strings = (i: Inputs) => (i.has('strings_parallel') ? i.number('strings_parallel') : 1);

checkTopic('5 conductors', 70, {
  awg_diameter_mm: (i) => awgDiameter(i.number('awg')) * 1e3,
  awg_area_mm2: (i) => awgArea(i.number('awg')) * 1e6,
  awg_resistance_ohm_per_kft: (i) => copperResistance(awgArea(i.number('awg')), 1000 * FOOT, 20),
  table_iec60228_class5_plain_ohm_per_km: (i) =>
    conductorResistance(area(i), 1000, 20, 'flexible', 'copper'),
  table_iec60228_class1_2_plain_ohm_per_km: (i) =>
    conductorResistance(area(i), 1000, 20, 'stranded', 'copper'),
  table_nec_ch9_t8_stranded_uncoated_cu_75C_ohm_per_kft: (i) =>
    NEC_TABLE_8.get(i.number('awg')) ?? Number.NaN,
  table_nec_310_16_cu_ampacity_A: (i) =>
    ampacity(awgArea(i.number('awg')), i.number('column_C'), 30, 'open').current,
  copper_resistance_ohm_per_km: (i) => copperResistance(area(i), 1000, temperature(i)),
  resistance_temperature_correct: (i) =>
    copperResistanceFrom20(i.number('resistance20'), i.number('temperature_C')),
  nec_table8_temperature_correct: (i) =>
    copperResistanceFrom75(i.number('resistance75'), i.number('temperature_C')),
  voltage_drop_V: drop,
  voltage_drop_fraction: (i) => drop(i) / i.number('system_V'),
  cable_loss_W: (i) =>
    cableLoss(
      i.number('current_A'),
      i.number('one_way_length_m'),
      i.number('resistance_ohm_per_km') / 1000,
    ),
  min_area_for_drop_mm2: (i) =>
    leastArea(i.number('current_A'), i.number('one_way_length_m'), i.number('allowed_drop_V')) *
    1e6,
  abyc_min_circular_mils: (i) =>
    circularMils(
      leastAreaBoats(
        i.number('current_A'),
        i.number('round_trip_ft') * FOOT,
        i.number('allowed_drop_V'),
      ),
    ),
  ampacity_ambient_factor: (i) =>
    ambientFactor(i.number('conductor_rating_C'), i.number('ambient_C')),
  pv_max_circuit_current_A: (i) => panelCircuitCurrent(i.number('isc_A')),
  pv_min_conductor_ampacity_A: (i) => panelLeadAmpacity(i.number('isc_A'), strings(i)),
  next_standard_fuse_A: (i) => nextFuse(i.number('required_A')),
  short_circuit_current_A: (i) =>
    shortCircuitCurrent(
      i.number('source_V'),
      i.number('source_resistance_ohm'),
      i.number('loop_resistance_ohm'),
    ),
  conductivity_penalty_area_ratio: (i) => areaForConductivity(i.number('iacs_percent') / 100),
});
