/*
 * Printed tables of wire sizes, resistances and currents, as data. All of them are quoted from
 * memory of the standards named, except where a comment says how they were compared; a person who
 * wires by them opens the standard. Sizes in mm² and AWG, as printed; gauge 0 is 1/0, −1 is 2/0,
 * −2 is 3/0 and −3 is 4/0.
 */

/** Nominal cross-sections on sale, mm². Source: IEC 60228:2004, tables 1 to 3. */
export const METRIC_SIZES: readonly number[] = [
  0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120,
];

/** Nominal area, mm² → largest resistance at 20 °C, Ω/km. */
export type ResistanceTable = ReadonlyMap<number, number>;

/** Solid and stranded plain copper. Source: IEC 60228:2004, tables 1 and 2 (from memory). */
export const IEC_CLASS_2_PLAIN: ResistanceTable = new Map([
  [0.5, 36],
  [0.75, 24.5],
  [1, 18.1],
  [1.5, 12.1],
  [2.5, 7.41],
  [4, 4.61],
  [6, 3.08],
  [10, 1.83],
  [16, 1.15],
  [25, 0.727],
  [35, 0.524],
  [50, 0.387],
]);

/** Flexible plain copper. Source: IEC 60228:2004, table 3 (from memory). */
export const IEC_CLASS_5_PLAIN: ResistanceTable = new Map([
  [0.5, 39],
  [0.75, 26],
  [1, 19.5],
  [1.5, 13.3],
  [2.5, 7.98],
  [4, 4.95],
  [6, 3.3],
  [10, 1.91],
  [16, 1.21],
  [25, 0.78],
  [35, 0.554],
  [50, 0.386],
]);

/** Flexible tinned copper. Source: IEC 60228:2004, table 3 (from memory). */
export const IEC_CLASS_5_TINNED: ResistanceTable = new Map([
  [0.5, 40.1],
  [0.75, 26.7],
  [1, 20],
  [1.5, 13.7],
  [2.5, 8.21],
  [4, 5.09],
  [6, 3.39],
  [10, 1.95],
  [16, 1.24],
  [25, 0.795],
  [35, 0.565],
  [50, 0.393],
]);

/**
 * AWG → Ω/1000 ft of stranded uncoated copper at 75 °C.
 * Source: NFPA 70 (NEC), chapter 9, table 8 (from memory). Each is 1.8 to 2.5 % over the computed
 * solid wire, the lay of the strands.
 */
export const NEC_TABLE_8: ReadonlyMap<number, number> = new Map([
  [-3, 0.0608],
  [-2, 0.0766],
  [-1, 0.0967],
  [0, 0.122],
  [1, 0.154],
  [2, 0.194],
  [3, 0.245],
  [4, 0.308],
  [6, 0.491],
  [8, 0.778],
  [10, 1.24],
  [12, 1.98],
  [14, 3.14],
  [16, 4.99],
  [18, 7.95],
]);

/**
 * AWG → A at 60, 75 and 90 °C of insulation, copper, 30 °C ambient, at most three conductors in one
 * raceway or cable; NaN where the table has no entry.
 * Source: NFPA 70 (NEC), table 310.16, compared with two reprints of the table in 2026.
 */
export const NEC_310_16: ReadonlyMap<number, readonly [number, number, number]> = new Map([
  [18, [Number.NaN, Number.NaN, 14]],
  [16, [Number.NaN, Number.NaN, 18]],
  [14, [15, 20, 25]],
  [12, [20, 25, 30]],
  [10, [30, 35, 40]],
  [8, [40, 50, 55]],
  [6, [55, 65, 75]],
  [4, [70, 85, 95]],
  [3, [85, 100, 115]],
  [2, [95, 115, 130]],
  [1, [110, 130, 145]],
  [0, [125, 150, 170]],
  [-1, [145, 175, 195]],
  [-2, [165, 200, 225]],
  [-3, [195, 230, 260]],
]);

/**
 * AWG → largest overcurrent device, A, whatever the table above allows.
 * Source: NFPA 70 (NEC), 240.4(D) (from memory).
 */
export const NEC_SMALL_CONDUCTOR_FUSE: ReadonlyMap<number, number> = new Map([
  [14, 15],
  [12, 20],
  [10, 30],
]);

/**
 * mm² → A: PVC (70 °C), two loaded conductors clipped to a surface, 30 °C ambient.
 * Source: IEC 60364-5-52, table B.52.2, method C (from memory).
 */
export const IEC_METHOD_C: ReadonlyMap<number, number> = new Map([
  [1.5, 19.5],
  [2.5, 27],
  [4, 36],
  [6, 46],
  [10, 63],
  [16, 85],
  [25, 112],
  [35, 138],
]);

/**
 * mm² → A: photovoltaic cable, single, in free air, 60 °C ambient, conductor at 120 °C.
 * Source: EN 50618, table A.3 (from memory).
 */
export const EN_50618: ReadonlyMap<number, number> = new Map([
  [1.5, 30],
  [2.5, 41],
  [4, 55],
  [6, 70],
  [10, 98],
  [16, 132],
]);

/**
 * Ratings of fuses on sale, A.
 * Source: NFPA 70 (NEC), 240.6(A), lengthened by the small sizes of the trade (common practice).
 */
export const FUSE_RATINGS: readonly number[] = [
  1, 2, 3, 4, 5, 6, 7.5, 8, 10, 12, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125,
  150, 175, 200, 225, 250, 300,
];
