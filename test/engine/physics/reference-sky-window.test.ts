// Views of the sky against closed forms and a hemisphere integral, leaves and bypass groups (see
// test/reference/checks.json).

import { stringShare } from '../../../engine/physics/module.ts';
import {
  canopyTransmittance,
  leakySkyShare,
  makeSkyWindow,
  openSky,
  skyShare,
} from '../../../engine/physics/sky-window.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const level = (height: number) => makeSkyWindow([0], [height], [0]);
const uniform = (i: Inputs) => level(i.angle('horizon_deg'));

/** Height at each azimuth of an endless wall to the north whose top stands at `angle`. */
function wall(angle: number): ReturnType<typeof makeSkyWindow> {
  const azimuth = Array.from({ length: 721 }, (_, n) => (n * Math.PI) / 360);
  const height = azimuth.map((each) => Math.atan(Math.tan(angle) * Math.max(0, Math.cos(each))));
  return makeSkyWindow(
    azimuth,
    height,
    azimuth.map(() => 0),
  );
}

const tilted = (i: Inputs) => skyShare(uniform(i), i.angle('tilt_deg'), 1);

checkTopic('3 sky window', 22, {
  svf_horizontal_uniform_horizon: (i) => skyShare(uniform(i), 0, 0),
  svf_tilted_open: (i) => skyShare(openSky(), i.angle('tilt_deg'), 2),
  svf_tilted_uniform_horizon_no_cut: tilted,
  svf_tilted_uniform_horizon_numeric: tilted,
  svf_horizontal_sector: (i) => {
    const end = i.angle('azimuth_span_deg');
    const height = i.angle('horizon_deg');
    const window = makeSkyWindow([0, 0, end, end], [0, height, height, 0], [0, 0, 0, 0]);
    return skyShare(window, 0, 0);
  },
  // A disc of leaves overhead hides what a level ring would leave open.
  svf_horizontal_under_canopy_disc: (i) =>
    skyShare(openSky(), 0, 0) - skyShare(level(i.angle('canopy_edge_elevation_deg')), 0, 0),
  svf_horizontal_infinite_wall: (i) => skyShare(wall(i.angle('wall_elevation_deg')), 0, 0),
  canopy_beam_transmittance: (i) =>
    canopyTransmittance(i.number('leaf_area_index'), Math.PI / 2 - i.angle('zenith_deg')),
  diffuse_factor_with_leaky_canopy: (i) =>
    leakySkyShare(i.number('svf_mask'), i.number('svf_open'), i.number('canopy_transmittance')),
  string_power_fraction_bypass: (i) =>
    stringShare(
      i.number('groups'),
      i.number('groups_shaded'),
      i.number('shaded_group_irradiance_fraction'),
    ),
});
