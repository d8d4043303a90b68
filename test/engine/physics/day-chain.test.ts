// A whole clear day from the sun's place to the panel's energy, step by step of five minutes: the
// functions of this folder together, against two independent computations of the same chain.

import { extraterrestrialNormal, ineichenPerez } from '../../../engine/physics/clear-sky.ts';
import { cellTemperatureFaiman, panelPower } from '../../../engine/physics/module.ts';
import {
  beamShare,
  makeSkyWindow,
  openSky,
  type SkyWindow,
  skyShare,
} from '../../../engine/physics/sky-window.ts';
import { solarPosition } from '../../../engine/physics/solar-position.ts';
import { dayOfYear } from '../../../engine/physics/time.ts';
import {
  ashraeModifier,
  beamRatio,
  cosineOfIncidence,
  groundReflected,
} from '../../../engine/physics/transposition.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const STEP = 300;

/** Outline in steps: [azimuth from, to, height], each an upright edge to the next. */
function outline(i: Inputs): SkyWindow {
  if (!i.has('mask')) return openSky();
  const edges = i.rows('mask').flatMap(([from = 0, to = 0, height = 0]) => [
    [from, height],
    [to, height],
  ]);
  return makeSkyWindow(
    edges.map(([azimuth = 0]) => (azimuth * Math.PI) / 180),
    edges.map(([, height = 0]) => (height * Math.PI) / 180),
    edges.map(() => 0),
  );
}

/** Σ over one day of the local mean sun, W → Wh. The chain of the reference has no dome modifier. */
function daySum(i: Inputs, value: (ghi: number, plane: number) => number): number {
  const latitude = i.angle('lat_deg');
  const longitude = i.angle('lon_deg');
  const tilt = i.has('tilt_deg') ? i.angle('tilt_deg') : 0;
  const facing = i.has('surface_azimuth_deg') ? i.angle('surface_azimuth_deg') : 0;
  const albedo = i.has('albedo') ? i.number('albedo') : 0;
  const window = outline(i);
  const sky = skyShare(window, tilt, facing);
  const outside = extraterrestrialNormal(dayOfYear(i.moment('date')));
  const midnight = i.moment('date') - i.number('lon_deg') * 240;
  let sum = 0;
  for (let at = STEP / 2; at < 86_400; at += STEP) {
    const sun = solarPosition(midnight + at, latitude, longitude);
    const turbidity = i.number('linke_turbidity');
    const light = ineichenPerez(sun.elevation, i.number('altitude_m'), turbidity, outside);
    const cosine = cosineOfIncidence(sun.elevation, sun.azimuth, tilt, facing);
    const glass = i.has('b0') ? ashraeModifier(cosine, i.number('b0')) : 1;
    const free = beamShare(window, sun.elevation, sun.azimuth) * glass;
    const ring = light.dni / outside;
    const incidence = Math.acos(Math.max(-1, Math.min(1, cosine)));
    const plane =
      light.dni * Math.max(0, cosine) * free +
      light.dhi * ring * beamRatio(incidence, sun.elevation) * free +
      light.dhi * (1 - ring) * sky +
      groundReflected(light.ghi, albedo, tilt);
    sum += (value(light.ghi, plane) * STEP) / 3600;
  }
  return sum;
}

checkTopic('2e clear-day chain', 10, {
  clear_day_ghi_Whm2: (i) => daySum(i, (ghi) => ghi),
  clear_day_poa_Whm2: (i) => daySum(i, (_, plane) => plane),
  clear_day_dc_Wh: (i) =>
    daySum(i, (_, plane) => {
      const cell = cellTemperatureFaiman(i.number('ambient_C'), plane, i.number('wind_ms'));
      return panelPower(i.number('rated_W'), plane, cell, i.number('gamma_perK'));
    }),
});
