// A notebook with every kind of line, for the tests of reading and editing, and the starter notebooks.

import { readdirSync, readFileSync } from 'node:fs';

export const SAMPLE = `dapple 1
title: A weekend
place: 44.5 °N, 110.2 °W, 2100 m, UTC-6
units: metric, Wh, °C
trials: 200
seed: 7

# Panels
| Two folding panels. "Quotes | bars" -- stay prose.
! Cover the panel before you pull its plug.
-- a remark
panel rating = 160 W        [50 W..800 W by 10 W]   -- printed on the back
gauge        = 4 mm²        [4 mm², 6 mm², 10 AWG]
plug         = "a [b] -- c"   -- the note
half         = panel rating/2
store        = battery run(charging: harvest,
                 load: load)   -- two lines
loads = table   -- what hangs on it
  item     | power | hours        | energy = power × hours.length -- columns
  lamp     | 6 W   | 20:30..23:00 |        -- the lamp
  cool box | 45 W  | 00:00..24:00 | = 45 W × 8 h
  phones   |
must panel rating ≤ 200 W     -- or a fuse
check half ≥ 50 W
answer guess = panel rating / 2 ± 1 %
chart half against panel rating = 50 W..200 W as line -- caption

scenario Grey
  | A low comes in.
  panel rating = panel rating / 2
  loads.hours("lamp") = 20:00..24:00 -- longer
this is no cell
`;

const folder = new URL('../../../notebooks/', import.meta.url);

/** The starter notebooks: file name and text. */
export const STARTERS: readonly (readonly [name: string, text: string])[] = readdirSync(folder)
  .filter((name) => name.endsWith('.dapple'))
  .map((name) => [name, readFileSync(new URL(name, folder), 'utf8')]);
