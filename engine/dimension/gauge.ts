/*
 * American wire gauge: a number that stands for the cross-section of a wire. A scale rather than a
 * unit, for a thicker wire has a smaller number and twice the number is not twice the wire. Sizes
 * above 1 are counted in noughts: 1/0 is gauge 0, 4/0 is gauge −3. Stored values are areas in m².
 *
 *     d = 0.127 mm · 92^((36 − n) / 39)
 *
 * Source: ASTM B258, which sets gauge 36 at 0.005 in and 4/0 at 0.46 in with 39 equal ratios between.
 */

const thinnest = 0.127e-3;

/** Cross-section in m² of a solid wire of gauge `n`; 1/0 is 0, 4/0 is −3. */
export function areaOfGauge(n: number): number {
  const diameter = thinnest * 92 ** ((36 - n) / 39);
  return (Math.PI / 4) * diameter * diameter;
}

/** Gauge of a wire of this cross-section in m², seldom whole; NaN when the area is not above 0. */
export function gaugeOfArea(area: number): number {
  if (!(area > 0)) return Number.NaN;
  const diameter = Math.sqrt((4 / Math.PI) * area);
  return 36 - (39 * Math.log(diameter / thinnest)) / Math.log(92);
}

/** A gauge as typed before `AWG` (`10`, `4/0`) as a number, or undefined when it is none. */
export function readGauge(text: string): number | undefined {
  const noughts = /^([1-9])\/0$/.exec(text);
  if (noughts !== null) return 1 - Number(noughts[1]);
  return /^\d{1,2}(\.\d+)?$/.test(text) ? Number(text) : undefined;
}

/**
 * A gauge as the trade writes it: `10 AWG`, `2/0 AWG`, `9.3 AWG`. Between the sizes counted in
 * noughts a fraction has no spelling, so both neighbours are named.
 */
export function formatGauge(n: number, digits = 3): string {
  if (!Number.isFinite(n)) return 'no AWG';
  const nearest = Math.round(n);
  if (Math.abs(n - nearest) < 1e-6) return `${wholeGauge(nearest)}\u00a0AWG`;
  if (n > 1) return `${Number(n.toPrecision(digits))}\u00a0AWG`;
  const [thin, thick] = [Math.ceil(n), Math.floor(n)];
  return `between ${wholeGauge(thin)} and ${wholeGauge(thick)}\u00a0AWG`;
}

function wholeGauge(n: number): string {
  return n >= 1 ? String(n) : `${1 - n}/0`;
}
