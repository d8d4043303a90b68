// Functions whose typing is not that of an element function: they work on a whole axis, make one,
// look one place back, or run the notebook again. One entry a form; the library describes them.

import type { Form } from './form-arguments.ts';
import {
  during,
  loadProfile,
  previous,
  runningTotal,
  steps,
  timeline,
  tripDay,
} from './form-axes.ts';
import { batteryRun, openSky, skyWindow } from './form-models.ts';
import { extreme, place1, rounding } from './form-numbers.ts';
import { daily, reduce } from './form-reductions.ts';
import { chance, drawnSky, percentile, solve, uncertainOnly } from './form-runs.ts';

export const forms: Readonly<Record<string, Form>> = {
  sqrt: place1('sqrt'),
  abs: place1('abs'),
  min: extreme('min'),
  max: extreme('max'),
  round: rounding('round'),
  'round up': rounding('round up'),
  'round down': rounding('round down'),
  sum: reduce('sum'),
  mean: reduce('mean'),
  lowest: reduce('lowest'),
  highest: reduce('highest'),
  'at lowest': reduce('at lowest'),
  'at highest': reduce('at highest'),
  first: reduce('first'),
  last: reduce('last'),
  count: reduce('count'),
  energy: reduce('energy'),
  'time while': reduce('time while'),
  'first moment': reduce('first moment'),
  'daily energy': daily('daily energy'),
  'daily lowest': daily('daily lowest'),
  'daily highest': daily('daily highest'),
  'daily mean': daily('daily mean'),
  'running total': runningTotal,
  previous,
  during,
  'load profile': loadProfile,
  timeline,
  steps,
  'trip day': tripDay,
  between: uncertainOnly,
  usual: uncertainOnly,
  chance,
  percentile,
  'drawn sky': drawnSky,
  solve,
  'sky window': skyWindow,
  'open sky': openSky,
  'battery run': batteryRun,
};
