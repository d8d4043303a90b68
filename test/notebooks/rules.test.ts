// The notebook of rules against the published and independently computed cases of
// test/reference/checks.json, each by its quantity and inputs; the source stands in the case.

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openSession } from '../../engine/index.ts';

interface Case {
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: number;
  readonly tolerance: number;
  readonly tolerance_kind: 'abs' | 'rel';
  readonly source: string;
}

const { cases } = JSON.parse(
  readFileSync(new URL('../reference/checks.json', import.meta.url), 'utf8'),
) as { cases: readonly Case[] };

const text = readFileSync(new URL('../../notebooks/rules.dapple', import.meta.url), 'utf8');
const { cells, messages } = openSession(text).report(0, false);

/** Cell, quantity, inputs that pick the case, and how many of the case's units one of the cell's is. */
const ROWS: readonly (readonly [string, string, Readonly<Record<string, unknown>>, number?])[] = [
  ['cloud share', 'kasten_czeplak_cloud_factor', { okta: 6 }, 0.01],
  ['plain clear', 'haurwitz_ghi_Wm2', { zenith_deg: 30 }],
  ['through leaves', 'canopy_beam_transmittance', { leaf_area_index: 3 }, 0.01],
  ['string power', 'string_power_fraction_bypass', { groups: 2 }, 0.01],
  ['by label', 'cell_temperature_noct_C', { ambient_C: 25, irradiance_Wm2: 1000, NOCT_C: 45 }],
  ['by wind', 'cell_temperature_faiman_C', { ambient_C: 25, irradiance_Wm2: 1000, wind_ms: 1 }],
  ['switched share', 'pwm_to_mppt_ratio', { isc_A: 6.3 }, 0.01],
  ['limited', 'controller_output_W', { pv_W: 380, max_charge_A: 20 }],
  ['fault', 'short_circuit_current_A', { source_V: 13.3 }],
  ['lasts', 'peukert_runtime_h', { exponent: 1.2, current_A: 10 }],
  ['taken in 2 h', 'taper_charge_fraction', { time_h: 2 }, 0.01],
  ['recharge', 'recharge_hours_cc', { ah_to_replace: 50 }],
  ['after 3 months', 'soc_after_self_discharge', { monthly_fraction: 0.04 }, 0.01],
  ['alone', 'autonomy_days', { usable_Wh: 1100 }],
  ['outlet on', 'ac_load_battery_Wh', { load_Wh: 150 }],
  ['from the car', 'dcdc_input_current_A', { output_A: 20 }],
  ['walls', 'insulation_UA_WperK', { area_m2: 1.1 }],
  ['box', 'fridge_mean_power_W', { UA_WperK: 0.75 }],
  ['best machine', 'carnot_cop', { evaporator_C: -10 }],
  ['cooling drinks', 'cooling_energy_Wh_thermal', { mass_kg: 6 }],
  ['making ice', 'freezing_energy_Wh_thermal', { mass_kg: 1 }],
  ['radio', 'radio_average_W', { transmit_W: 250 }],
  ['packs', 'charger_input_Wh', { battery_mAh: 2000 }],
  ['near field', 'near_field_boundary_m', { frequency_MHz: 7.1 }],
  ['stronger by', 'power_multiplier_for_rise', { rise_dB: 12 }],
  ['noon cost', 'unplug_energy_fraction_clear_day', { start_h_from_noon: -1 }, 0.01],
  ['usual spell', 'mean_wet_spell_days', { p_wet_given_wet: 0.55 }],
  ['three wet', 'prob_spell_at_least', { length: 3 }, 0.01],
];

describe('each rule gives what its source gives', () => {
  test('without a message', () => {
    expect(messages).toEqual([]);
  });

  test.each(ROWS.map(([cell, quantity, inputs, scale = 1]) => ({ cell, quantity, inputs, scale })))(
    '$cell is $quantity',
    ({ cell, quantity, inputs, scale }) => {
      const found = cases.find(
        (one) =>
          one.quantity === quantity &&
          Object.entries(inputs).every(([key, value]) => one.inputs[key] === value),
      );
      if (!found) throw new Error(`no case ${quantity}`);
      const value = Number(cells[cell]?.value) * scale;
      const allowed =
        found.tolerance_kind === 'rel'
          ? found.tolerance * Math.abs(found.expected)
          : found.tolerance;
      expect(Math.abs(value - found.expected)).toBeLessThanOrEqual(Math.max(allowed, 1e-9));
    },
  );

  // FAO-56, example 18: Uccle, 6 July, n = 9.25 h, N = 16.1 h gives a share of 0.5374 of the light outside.
  test('sunshine hours follow FAO-56, eq. 35', () => {
    const share = 0.25 + 0.5 * (9.25 / Number(cells['day length']?.value));
    expect(Number(cells['by sunshine']?.value)).toBeCloseTo(
      share * Number(cells.outside?.value),
      9,
    );
  });

  // FAO-56, example 15: 26.6 °C and 14.8 °C give 0.16 √11.8 = 0.5496 of the light outside.
  test('warmth follows FAO-56, eq. 50', () => {
    const share = Number(cells['by warmth']?.value) / Number(cells.outside?.value);
    expect(share).toBeCloseTo(0.16 * Math.sqrt(26.6 - 14.8), 9);
  });
});
