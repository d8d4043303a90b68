// Wires and fuses: what a lead resists, what it may carry, what is sold next.

import { area, current, length, resistance } from '../dimension/dimension.ts';
import {
  ampacity,
  awgArea,
  conductorResistance,
  type Lay,
  type Metal,
  nextFuse,
  nextWire,
} from '../physics/conductor.ts';
import { NEC_TABLE_8 } from '../physics/conductor-tables.ts';
import { amount, quantityResult, thermometer, words } from './parameter.ts';
import type { CallContext, LibraryFunction, Parameter } from './signature.ts';

const size: Parameter = amount('of', area, 'cross-section of the wire, in mm² or AWG', {
  range: [0.05e-6, 120e-6],
  rangeText: '0.05 mm² to 120 mm²',
});

/** One of the words a text argument may be; the checker lets no other through. */
function wordOf<Word extends string>(
  context: CallContext,
  id: number | undefined,
  allowed: readonly Word[],
): Word | undefined {
  const text = context.textOf(id ?? Number.NaN);
  const found = allowed.find((word) => word === text);
  if (found === undefined) {
    context.problem = `"${text}" is not known here; it is one of ${allowed.map((word) => `"${word}"`).join(', ')}.`;
  }
  return found;
}

const LAYS: readonly Lay[] = ['solid', 'stranded', 'flexible'];
const METALS: readonly Metal[] = ['copper', 'aluminium'];
const LAID = ['open', 'on a surface'] as const;
const SIZES = ['mm²', 'AWG'] as const;

/** Gauges on sale, from thin to thick: 3 and 1 are made, the other odd ones under them are not. */
const GAUGES: readonly number[] = [
  30,
  28,
  26,
  24,
  22,
  20,
  ...[...NEC_TABLE_8.keys()].sort((a, b) => b - a),
];

/** m²; NaN above 4/0 AWG. An area that a gauge stands for may be a rounding off. */
function nextGauge(least: number): number {
  const found = GAUGES.find((gauge) => awgArea(gauge) * (1 + 1e-9) >= least);
  return found === undefined ? Number.NaN : awgArea(found);
}

export const cableFunctions: readonly LibraryFunction[] = [
  {
    name: 'resistance',
    cost: 200,
    subject: 'cable',
    positional: 1,
    parameters: [
      size,
      amount('length', length, 'of wire: there and back counts twice', {
        range: [0, 1e6],
        rangeText: '0 m to 1000 km',
      }),
      thermometer('at', 'temperature of the wire', {
        default: 20,
        range: [-40, 120],
        rangeText: '−40 °C to 120 °C',
      }),
      words('lay', LAYS, 'how the strands lie; leads that bend are flexible', { default: 'solid' }),
      words('metal', METALS, 'what it is made of', { default: 'copper' }),
    ],
    result: quantityResult(resistance),
    apply: (args, out, context) => {
      const [cross = 0, wire = 0, temperature = 20] = args;
      const lay = wordOf(context, args[3], LAYS);
      const metal = wordOf(context, args[4], METALS);
      out[0] =
        lay === undefined || metal === undefined
          ? Number.NaN
          : conductorResistance(cross, wire, temperature, lay, metal);
    },
    meaning:
      'Resistance of a wire. Metric stranded and flexible sizes: the most that the standard allows; other sizes: solid wire and 2 % (stranded) or 15 % (flexible) for the lay.',
    source:
      'IEC 60028 (copper) and IEC 60111 (aluminium) for the metal; IEC 60228:2004 classes 2 and 5 for sizes on sale (tables from memory); NEC chapter 9, table 8',
    example: { formula: 'resistance(of: 4 mm², length: 1 km, lay: "flexible")', gives: '4.95 Ω' },
    caution: 'An unmarked cheap lead may be copper-clad aluminium: half as much again. Measure it.',
  },
  {
    name: 'ampacity',
    cost: 200,
    subject: 'cable',
    positional: 1,
    parameters: [
      size,
      thermometer('insulation', 'what the insulation stands for hours: 60, 75 or 90 °C for AWG', {
        range: [60, 120],
        rangeText: '60 °C to 120 °C',
      }),
      thermometer('at', 'temperature round the lead', {
        default: 30,
        range: [-40, 119],
        rangeText: '−40 °C to 119 °C',
      }),
      words('laid', LAID, 'in free air or along a surface', { default: 'open' }),
    ],
    result: quantityResult(current, 'A'),
    apply: (args, out, context) => {
      const [cross = 0, insulation = 90, around = 30] = args;
      out[0] = Number.NaN;
      const laid = wordOf(context, args[3], LAID);
      if (laid === undefined) return;
      if (around >= insulation) {
        context.problem =
          'The surroundings are as hot as the insulation may get: the lead may carry nothing.';
        return;
      }
      const found = ampacity(cross, insulation, around, laid);
      out[0] = found.current;
      if (Number.isNaN(found.current)) {
        context.problem = `No entry for this wire and insulation: ${found.table}.`;
      }
    },
    meaning:
      'The current a copper lead may carry for hours: the listed size at or below it, times √((insulation − at) / the rise the table was made for).',
    source:
      'AWG: NFPA 70 (NEC) table 310.16. Metric: EN 50618 table A.3 for leads in the open, IEC 60364-5-52 table B.52.2 method C on a surface (both from memory). The root is the heat balance of a wire',
    example: { formula: 'ampacity(of: 10 AWG, insulation: 75 °C)', gives: '35 A' },
    caution:
      'A lead coiled on a drum carries 30 to 40 % of it. The fuse protects the lead: it must not be larger. NEC 240.4(D) allows at most 15, 20 and 30 A on 14, 12 and 10 AWG.',
  },
  {
    name: 'next fuse',
    subject: 'cable',
    positional: 1,
    parameters: [
      amount('current', current, 'that must pass', { range: [0, 300], rangeText: '0 A to 300 A' }),
    ],
    result: quantityResult(current, 'A'),
    apply: (args, out, context) => {
      out[0] = nextFuse(args[0] ?? Number.NaN);
      if (Number.isNaN(out[0])) context.problem = 'There is no listed fuse above 300 A.';
    },
    meaning: 'The smallest fuse on sale that is not below a current.',
    source: 'NFPA 70 (NEC) 240.6(A), with the small sizes of the trade',
    example: { formula: 'next fuse(15.6 A)', gives: '20 A' },
    caution: 'Rated for direct current, and for the voltage: a 32 V blade fuse is not for 48 V.',
  },
  {
    name: 'next wire',
    subject: 'cable',
    positional: 1,
    parameters: [
      amount('area', area, 'the least cross-section that will do', {
        range: [0, 120e-6],
        rangeText: '0 mm² to 120 mm²',
      }),
      words('sizes', SIZES, 'whose sizes', { default: 'mm²' }),
    ],
    result: { kind: 'quantity', dimension: area, stance: 'plain', unit: 'mm²', unitFrom: 'sizes' },
    apply: (args, out, context) => {
      const sizes = wordOf(context, args[1], SIZES);
      const least = args[0] ?? Number.NaN;
      out[0] = Number.NaN;
      if (sizes === undefined) return;
      out[0] = sizes === 'AWG' ? nextGauge(least) : nextWire(least, sizes);
      if (Number.isNaN(out[0])) {
        context.problem = `There is no listed size so thick: the largest is ${sizes === 'AWG' ? '4/0 AWG' : '120 mm²'}.`;
      }
    },
    meaning: 'The smallest wire on sale that is not thinner than an area.',
    source: 'IEC 60228:2004; ASTM B258, sizes of NEC chapter 9, table 8',
    example: { formula: 'next wire(4.6 mm²)', gives: '6 mm²' },
  },
];
