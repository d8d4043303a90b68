// Conductors and their protection.

import { area, current, length, resistance, temperature } from '../dimension/dimension.ts';
import { ampacity, conductorResistance, type Lay, type Metal, nextFuse, nextWire } from '../physics/conductor.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

const LEAST = 0.05e-6;
const MOST = 120e-6;
const of: Parameter = { name: 'of', kind: 'quantity', dimension: area, range: [LEAST, MOST], rangeText: '0.05 mm² to 120 mm²', meaning: 'area of the conductor, in mm² or AWG' };
const CAUTION = 'A fuse protects the cable: it belongs at the battery, rated for direct current. Local codes and the makers’ instructions come first.';

export const cable: readonly LibraryFunction[] = [
  {
    name: 'resistance',
    parameters: [
      of,
      { name: 'length', kind: 'quantity', dimension: length, range: [0, 1e6], rangeText: '0 m to 1000 km', meaning: 'of wire, there and back' },
      { name: 'at', kind: 'quantity', dimension: temperature, stance: 'temperature', default: 20, range: [-40, 120], rangeText: '−40 °C to 120 °C', meaning: 'temperature of the wire' },
      { name: 'lay', kind: 'text', default: 'solid', choices: ['solid', 'stranded', 'flexible'], meaning: 'how the wire is made' },
      { name: 'metal', kind: 'text', default: 'copper', choices: ['copper', 'aluminium'], meaning: 'what it is made of' },
    ],
    result: { kind: 'quantity', dimension: resistance, stance: 'plain', unit: 'mΩ' },
    apply: (args, out, context) => {
      out[0] = conductorResistance(args[0] as number, args[1] as number, args[2] as number, context.textOf(args[3] as number) as Lay, context.textOf(args[4] as number) as Metal);
    },
    positional: 0, subject: 'cable', meaning: 'Resistance of a wire at its temperature.',
    source: 'IEC 60028 (copper), ASTM B258 (AWG), IEC 60228 class 5 maxima for flexible leads', example: { formula: 'resistance(of: 4 mm², length: 1 km, lay: "flexible") as Ω', gives: '4.95 Ω' },
  },
  {
    name: 'ampacity',
    parameters: [
      of,
      { name: 'insulation', kind: 'quantity', dimension: temperature, stance: 'temperature', range: [60, 90], rangeText: '60, 75 or 90 °C', meaning: 'what the insulation stands for hours' },
      { name: 'at', kind: 'quantity', dimension: temperature, stance: 'temperature', default: 30, range: [-40, 90], rangeText: '−40 °C to 90 °C', meaning: 'temperature around it' },
      { name: 'laid', kind: 'text', default: 'open', choices: ['open', 'on a surface'], meaning: 'where it lies' },
    ],
    result: { kind: 'quantity', dimension: current, stance: 'plain', unit: 'A' },
    apply: (args, out, context) => {
      const [size, insulation, at] = args as unknown as [number, number, number];
      const laid = context.textOf(args[3] as number) as 'open' | 'on a surface';
      if (at >= insulation) context.problem = 'The surroundings are as hot as the insulation may get: no current is allowed.';
      else if (![60, 75, 90].includes(insulation)) context.problem = 'ampacity(…) knows insulation for 60 °C, 75 °C and 90 °C.';
      out[0] = context.problem === '' ? ampacity(size, insulation, at, laid).current : Number.NaN;
      if (Number.isNaN(out[0]) && context.problem === '') context.problem = 'The tables of allowed currents have no wire as thin as this.';
    },
    positional: 0, subject: 'cable', meaning: 'Current that a wire may carry for hours. AWG sizes after NEC 310.16, metric ones after IEC 60364-5-52 or EN 50618.',
    source: 'NFPA 70 table 310.16; IEC 60364-5-52 B.52.2; EN 50618 (from memory); ambient factor by the heat balance',
    example: { formula: 'ampacity(of: 10 AWG, insulation: 75 °C)', gives: '35 A' }, caution: CAUTION,
  },
  {
    name: 'next fuse',
    parameters: [{ name: 'current', kind: 'quantity', dimension: current, range: [0, 300], rangeText: '0 A to 300 A', meaning: 'least current the fuse must carry' }],
    result: { kind: 'quantity', dimension: current, stance: 'plain', unit: 'A' },
    apply: (args, out) => {
      out[0] = nextFuse(args[0] as number);
    },
    positional: 1, subject: 'cable', meaning: 'The next standard fuse size up.', source: 'standard sizes, common practice', example: { formula: 'next fuse(15.625 A)', gives: '20 A' }, caution: CAUTION,
  },
  {
    name: 'next wire',
    parameters: [{ ...of, name: 'area' }, { name: 'sizes', kind: 'text', default: 'mm²', choices: ['mm²', 'AWG'], meaning: 'which row of sizes' }],
    result: { kind: 'quantity', dimension: area, stance: 'plain', unit: 'mm²' },
    apply: (args, out, context) => {
      out[0] = nextWire(args[0] as number, context.textOf(args[1] as number) as 'mm²' | 'AWG');
      if (Number.isNaN(out[0])) context.problem = 'No listed wire is as thick as that.';
    },
    positional: 1, subject: 'cable', meaning: 'The next listed wire size up; never rounds up to a smaller one.', source: 'IEC 60228 sizes; ASTM B258', example: { formula: 'next wire(2.6 mm²)', gives: '4 mm²' },
  },
];
