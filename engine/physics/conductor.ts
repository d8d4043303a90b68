/*
 * Copper (and aluminium) between panel, battery and load: size, resistance, drop, loss, how much
 * current a lead may carry and what fuse protects it. Lengths are of wire; where a function takes
 * the one-way length of a pair it says so. The printed tables are in `conductor-tables.ts`.
 */

import {
  EN_50618,
  FUSE_RATINGS,
  IEC_CLASS_2_PLAIN,
  IEC_CLASS_5_PLAIN,
  IEC_METHOD_C,
  METRIC_SIZES,
  NEC_310_16,
  type ResistanceTable,
} from './conductor-tables.ts';

/** How the strands of a conductor lie. */
export type Lay = 'solid' | 'stranded' | 'flexible';

/** What it is made of. */
export type Metal = 'copper' | 'aluminium';

/** Resistivity of annealed copper at 20 °C, Ω m. Source: IEC 60028:1925. */
export const COPPER_RESISTIVITY = 1.7241e-8;

/** Rise of copper's resistance per kelvin over 20 °C, 1/K. Source: IEC 60028:1925. */
export const COPPER_RISE = 0.00393;

/** Resistivity of conductor aluminium at 20 °C, Ω m. Source: IEC 60111 (from memory). */
export const ALUMINIUM_RESISTIVITY = 2.8264e-8;

/** Rise of aluminium's resistance per kelvin over 20 °C, 1/K. Source: IEC 60111 (from memory). */
export const ALUMINIUM_RISE = 0.00403;

const SQUARE_MILLIMETRE = 1e-6;
const CIRCULAR_MIL = (Math.PI / 4) * 25.4e-6 ** 2;
const FOOT = 0.3048;

/**
 * Diameter of a solid wire of an American gauge.
 *
 *     d = 0.127 mm · 92^((36 − n) / 39)
 *
 * @param gauge  n; 0 is 1/0, −1 is 2/0, −2 is 3/0, −3 is 4/0
 * @returns      m
 *
 * Source: ASTM B258
 * Truth: test/reference/checks.json (awg_diameter_mm), largest relative error 0.0004
 */
export function awgDiameter(gauge: number): number {
  return 0.127e-3 * 92 ** ((36 - gauge) / 39);
}

/**
 * Cross-section of a wire of an American gauge.
 *
 *     A = π d² / 4
 *
 * @param gauge  as `awgDiameter`
 * @returns      m²
 *
 * Source: ASTM B258
 * Truth: test/reference/checks.json (awg_area_mm2), largest relative error 0.0003
 */
export function awgArea(gauge: number): number {
  return (Math.PI / 4) * awgDiameter(gauge) ** 2;
}

/**
 * American gauge of a cross-section, the inverse of `awgArea`.
 *
 *     n = 36 − 39 ln(d / 0.127 mm) / ln 92
 *
 * @param area  m², more than 0
 * @returns     gauge, seldom whole; smaller is thicker
 *
 * Source: ASTM B258
 * Truth: test/engine/physics/conductor.test.ts, inverse of `awgArea` to 1e-9
 */
export function awgOfArea(area: number): number {
  const diameter = Math.sqrt((4 * area) / Math.PI);
  return 36 - (39 * Math.log(diameter / 0.127e-3)) / Math.log(92);
}

/**
 * Resistance of solid annealed copper.
 *
 *     R = ρ20 L / A · (1 + α20 (T − 20 °C))
 *
 * @param area         A, m², more than 0
 * @param length       of wire L, m; both ways for a pair
 * @param temperature  T, °C
 * @returns            Ω
 *
 * Source: IEC 60028:1925
 * Truth: test/reference/checks.json (copper_resistance_ohm_per_km, awg_resistance_ohm_per_kft),
 * largest relative error 0.0003, the latter against NBS Handbook 100
 */
export function copperResistance(area: number, length: number, temperature: number): number {
  return ((COPPER_RESISTIVITY * length) / area) * (1 + COPPER_RISE * (temperature - 20));
}

/**
 * Resistance of a conductor as sold.
 *
 *     solid     ρ L / A
 *     stranded  IEC 60228 class 2 maximum for its sizes, else solid × 1.02 (the lay in NEC table 8)
 *     flexible  IEC 60228 class 5 maximum for its sizes, else solid × 1.15
 *
 * each times 1 + α20 (T − 20 °C). With metric sizes the resistance is the definition and the area a
 * name, so the maximum is what a buyer may count on.
 *
 * @param area         m², more than 0
 * @param length       of wire, m; both ways for a pair
 * @param temperature  T, °C, −40 to 120
 * @param lay          how the strands lie
 * @param metal        aluminium takes the same factor for its lay as copper
 * @returns            Ω
 *
 * Source: IEC 60028, IEC 60111, IEC 60228:2004 (tables from memory); NEC chapter 9, table 8
 * Truth: test/reference/checks.json (table_iec60228_*), no error beyond rounding; the stranded rule
 * within 0.6 % of table_nec_ch9_t8_*
 */
export function conductorResistance(
  area: number,
  length: number,
  temperature: number,
  lay: Lay,
  metal: Metal,
): number {
  const resistivity = metal === 'copper' ? COPPER_RESISTIVITY : ALUMINIUM_RESISTIVITY;
  const rise = metal === 'copper' ? COPPER_RISE : ALUMINIUM_RISE;
  const solid = ((resistivity * length) / area) * (1 + rise * (temperature - 20));
  return solid * layFactor(area, lay);
}

/** Resistance as sold over the computed resistance of solid wire of the nominal area. */
function layFactor(area: number, lay: Lay): number {
  if (lay === 'solid') return 1;
  const table: ResistanceTable = lay === 'stranded' ? IEC_CLASS_2_PLAIN : IEC_CLASS_5_PLAIN;
  const size = metricSize(area);
  const listed = size === undefined ? undefined : table.get(size);
  if (listed === undefined) return lay === 'stranded' ? 1.02 : 1.15;
  return listed / 1000 / (COPPER_RESISTIVITY / area);
}

/** The metric size on sale that an area in m² is, if it is one; mm². */
function metricSize(area: number): number | undefined {
  const size = area / SQUARE_MILLIMETRE;
  return METRIC_SIZES.find((listed) => Math.abs(listed - size) < 1e-3 * listed);
}

/** The whole gauge that an area in m² is, if it is one. */
function gaugeSize(area: number): number | undefined {
  const gauge = Math.round(awgOfArea(area));
  return Math.abs(awgArea(gauge) - area) < 1e-3 * area ? gauge : undefined;
}

/**
 * Resistance at another temperature than 20 °C.
 *
 *     R = R20 (1 + 0.00393 (T − 20 °C))
 *
 * @param resistance   at 20 °C, Ω or Ω/m
 * @param temperature  T, °C
 * @returns            as `resistance`
 *
 * Source: IEC 60028:1925
 * Truth: test/reference/checks.json (resistance_temperature_correct), no error beyond rounding
 */
export function copperResistanceFrom20(resistance: number, temperature: number): number {
  return resistance * (1 + COPPER_RISE * (temperature - 20));
}

/**
 * Resistance at another temperature than 75 °C, as the American code has it.
 *
 *     R = R75 (1 + 0.00323 (T − 75 °C))
 *
 * @param resistance   at 75 °C, Ω or Ω/m
 * @param temperature  T, °C
 * @returns            as `resistance`
 *
 * Source: NFPA 70 (NEC), chapter 9, table 8, note 2 (from memory)
 * Truth: test/reference/checks.json (nec_table8_temperature_correct), largest relative error 4e-6
 */
export function copperResistanceFrom75(resistance: number, temperature: number): number {
  return resistance * (1 + 0.00323 * (temperature - 75));
}

/**
 * Voltage lost on a pair.
 *
 *     ΔV = 2 L r I
 *
 * @param current    I, A
 * @param oneWay     length of the pair L, m
 * @param perMetre   resistance of one conductor r, Ω/m
 * @returns          V
 *
 * Source: Ohm
 * Truth: test/reference/checks.json (voltage_drop_V, voltage_drop_fraction), no error beyond
 * rounding
 */
export function voltageDrop(current: number, oneWay: number, perMetre: number): number {
  return 2 * oneWay * perMetre * current;
}

/**
 * Power lost on a pair.
 *
 *     P = 2 L r I²
 *
 * @param current   I, A
 * @param oneWay    length of the pair L, m
 * @param perMetre  resistance of one conductor r, Ω/m
 * @returns         W
 *
 * Source: Joule
 * Truth: test/reference/checks.json (cable_loss_W), no error beyond rounding
 */
export function cableLoss(current: number, oneWay: number, perMetre: number): number {
  return 2 * oneWay * perMetre * current * current;
}

/**
 * Least cross-section of a copper pair for a drop.
 *
 *     A = 2 L I ρ20 / ΔV
 *
 * @param current  I, A
 * @param oneWay   length of the pair L, m
 * @param drop     allowed ΔV, V, more than 0
 * @returns        m²
 *
 * Source: Ohm; IEC 60028:1925
 * Truth: test/reference/checks.json (min_area_for_drop_mm2), largest relative error 6e-7
 */
export function leastArea(current: number, oneWay: number, drop: number): number {
  return (2 * oneWay * current * COPPER_RESISTIVITY) / drop;
}

/**
 * Least cross-section of a copper pair for a drop, as boat builders compute it.
 *
 *     CM = 10.75 I L / E,   L in feet both ways, E in volts
 *
 * @param current    I, A
 * @param roundTrip  length of wire both ways, m
 * @param drop       allowed E, V, more than 0
 * @returns          m²
 *
 * Source: ABYC E-11 (from memory)
 * Truth: test/reference/checks.json (abyc_min_circular_mils), largest relative error 4e-6
 */
export function leastAreaBoats(current: number, roundTrip: number, drop: number): number {
  return ((10.75 * current * (roundTrip / FOOT)) / drop) * CIRCULAR_MIL;
}

/**
 * A cross-section in circular mils.
 *
 * @param area  m²
 * @returns     circular mils, the area of a disc 0.001 inch across
 *
 * Source: NIST SP 811 (2008), appendix B
 * Truth: test/reference/checks.json, within abyc_min_circular_mils
 */
export function circularMils(area: number): number {
  return area / CIRCULAR_MIL;
}

/** A current and where it is printed. */
export interface Ampacity {
  /** A; NaN when no table covers the size or the surroundings are as hot as the insulation. */
  readonly current: number;
  readonly table: string;
}

/**
 * Current that a copper lead may carry for hours.
 *
 *     I = I_table √((Tc − Ta) / ΔT_table)
 *
 * with the largest listed size that is not thicker than the lead, and ΔT_table the kelvins between
 * conductor and surroundings that the table was made for. A whole AWG size is looked up in NEC table
 * 310.16 in its insulation's column (bundled in one cable, so safe however it lies). Any other area
 * is metric: on a surface IEC 60364-5-52 method C, in the open EN 50618 for a single cable in air.
 *
 * @param area        m², more than 0
 * @param insulation  temperature it stands for hours Tc, °C: 60, 75 or 90
 * @param ambient     Ta, °C, below `insulation`
 * @param lay         in free air, or on a surface
 * @returns           A, and the table
 *
 * Source: the tables named, all in `conductor-tables.ts`; the root is the heat balance of a wire
 * Truth: test/reference/checks.json (table_nec_310_16_cu_ampacity_A), no error beyond rounding; the
 * ambient factor within 0.006 of the printed ones
 */
export function ampacity(
  area: number,
  insulation: number,
  ambient: number,
  lay: 'open' | 'on a surface',
): Ampacity {
  const gauge = gaugeSize(area);
  if (gauge !== undefined) {
    const column = NEC_COLUMNS.indexOf(insulation);
    let printed = Number.NaN;
    for (const [size, row] of NEC_310_16) {
      if (size >= gauge) printed = row[column] ?? Number.NaN;
    }
    return {
      current: printed * ambientFactor(insulation, ambient, 30),
      table: `NEC 310.16, ${insulation} °C column`,
    };
  }
  if (lay === 'on a surface') {
    return {
      current: atOrBelow(IEC_METHOD_C, area) * rise(insulation, ambient, 40),
      table: 'IEC 60364-5-52 B.52.2, method C',
    };
  }
  return {
    current: atOrBelow(EN_50618, area) * rise(insulation, ambient, 60),
    table: 'EN 50618, single in free air',
  };
}

const NEC_COLUMNS: readonly number[] = [60, 75, 90];

/**
 * Current allowed at another ambient temperature, as a share of the table's.
 *
 *     f = √((Tc − Ta) / (Tc − T_table))
 *
 * @param conductor  highest temperature of the conductor Tc, °C
 * @param ambient    Ta, °C, below `conductor`
 * @param reference  ambient temperature of the table, °C
 * @returns          dimensionless; NaN when it is as hot as the conductor may get
 *
 * Source: heat balance; NFPA 70 (NEC), table 310.15(B)(1)(1)
 * Truth: test/reference/checks.json (ampacity_ambient_factor), largest error 0.005
 */
export function ambientFactor(conductor: number, ambient: number, reference = 30): number {
  return rise(conductor, ambient, conductor - reference);
}

function rise(conductor: number, ambient: number, reference: number): number {
  return ambient < conductor ? Math.sqrt((conductor - ambient) / reference) : Number.NaN;
}

/** Entry of the thickest listed size not thicker than an area in m²; NaN below the first. */
function atOrBelow(table: ReadonlyMap<number, number>, area: number): number {
  const size = (area / SQUARE_MILLIMETRE) * (1 + 1e-9);
  let current = Number.NaN;
  for (const [listed, value] of table) if (listed <= size) current = value;
  return current;
}

/**
 * Largest current of a panel's circuit: bright edges of clouds pass the rating.
 *
 *     I = 1.25 · n I_sc
 *
 * @param shortCurrent  of one string I_sc, A
 * @param strings       in parallel n, whole
 * @returns             A
 *
 * Source: NFPA 70 (NEC), 690.8(A)(1)
 * Truth: test/reference/checks.json (pv_max_circuit_current_A), no error beyond rounding
 */
export function panelCircuitCurrent(shortCurrent: number, strings = 1): number {
  return 1.25 * strings * shortCurrent;
}

/**
 * Least ampacity of a panel's lead, and least rating of its fuse: another 1.25 for hours on end.
 *
 *     I = 1.5625 · n I_sc
 *
 * @param shortCurrent  of one string I_sc, A
 * @param strings       in parallel n, whole
 * @returns             A
 *
 * Source: NFPA 70 (NEC), 690.8(A) and (B)
 * Truth: test/reference/checks.json (pv_min_conductor_ampacity_A), no error beyond rounding
 */
export function panelLeadAmpacity(shortCurrent: number, strings = 1): number {
  return 1.25 * panelCircuitCurrent(shortCurrent, strings);
}

/**
 * Next fuse on sale.
 *
 * @param current  A, 0 or more
 * @returns        A, the smallest rating not below it; NaN above 300 A
 *
 * Source: NFPA 70 (NEC), 240.6(A), with the small sizes of the trade
 * Truth: test/reference/checks.json (next_standard_fuse_A), no error beyond rounding
 */
export function nextFuse(current: number): number {
  // A product such as 1.25 × 24 may lie a rounding above the rating it means.
  return FUSE_RATINGS.find((rating) => rating * (1 + 1e-9) >= current) ?? Number.NaN;
}

/**
 * Next wire on sale, never thinner than asked.
 *
 * @param area   m², more than 0
 * @param sizes  which series
 * @returns      m²; NaN above 120 mm² or 4/0
 *
 * Source: IEC 60228:2004; ASTM B258
 * Truth: test/engine/physics/conductor.test.ts, both sides of sizes
 */
export function nextWire(area: number, sizes: 'mm²' | 'AWG'): number {
  if (sizes === 'mm²') {
    const size = area / SQUARE_MILLIMETRE;
    const listed = METRIC_SIZES.find((each) => each * (1 + 1e-9) >= size);
    return listed === undefined ? Number.NaN : listed * SQUARE_MILLIMETRE;
  }
  const gauge = Math.floor(awgOfArea(area) + 1e-9);
  return gauge >= -3 ? awgArea(gauge) : Number.NaN;
}

/**
 * Current into a short circuit.
 *
 *     I = V / (R_source + R_loop)
 *
 * @param voltage  V, V
 * @param source   resistance of the battery, Ω
 * @param loop     resistance of both conductors, Ω
 * @returns        A
 *
 * Source: Ohm
 * Truth: test/reference/checks.json (short_circuit_current_A), no error beyond rounding
 */
export function shortCircuitCurrent(voltage: number, source: number, loop: number): number {
  return voltage / (source + loop);
}

/**
 * How much thicker a poorer metal must be for the same resistance.
 *
 * @param conductivity  share of annealed copper's (IACS), more than 0 to 1
 * @returns             dimensionless
 *
 * Source: the definition of the International Annealed Copper Standard
 * Truth: test/reference/checks.json (conductivity_penalty_area_ratio), largest relative error 3e-6
 */
export function areaForConductivity(conductivity: number): number {
  return 1 / conductivity;
}
