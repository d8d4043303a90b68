// Neighbouring operations on series put together: an operation whose result feeds only the next one
// and belongs to no cell is worked in the same pass with it (joins.ts). A cell's values are the same
// to the bit.

import type { Type } from '../check/type.ts';
import { type Join, joinNumber, NOTHING, ONE, turned } from './joins.ts';
import type { Operand } from './memory.ts';
import { OPS, type Op, WIDTH } from './program.ts';

/** An instruction on its way to being joined; `words` are those of one that stays as it is. */
interface Piece {
  readonly op: Op | Join;
  readonly to: Operand;
  /** Operands of an operation; rows and codes of numbers of a join. */
  readonly places: readonly Operand[];
  readonly numbers: readonly number[];
  readonly shape: number;
  readonly words: readonly number[];
}

const ONE_OPERAND: ReadonlySet<Op> = new Set(['neg', 'not', 'abs', 'sqrt', 'copy', 'here']);

/**
 * The instructions of one cell with neighbours joined; the same list when none are. What may be absent
 * stays apart, for each absent place is asked why. `isKept` tells places that belong to cells.
 */
export function joinRows(
  code: readonly number[],
  type: Type | undefined,
  isKept: (place: Operand) => boolean,
): readonly number[] {
  if (type?.optional || !hasNeighbours(code)) return code;
  const pieces = piecesOf(code);
  const uses = new Map<Operand, number>();
  for (const { places } of pieces)
    for (const place of places) uses.set(place, (uses.get(place) ?? 0) + 1);
  const made = new Map<Operand, Piece>();
  const gone = new Set<Piece>();
  let joined = false;
  const list = pieces.map((piece) => {
    if (piece.to >= 0) return piece;
    const found = joinOf(piece, (place) => {
      if (place >= 0 || isKept(place) || uses.get(place) !== 1) return undefined;
      const from = made.get(place);
      return from?.shape === piece.shape ? from : undefined;
    });
    const { to, shape } = piece;
    let now = piece;
    if (found) {
      joined = true;
      for (const part of found.parts) gone.add(part);
      const { op, places, numbers } = found;
      now = { op, to, places, numbers, shape, words: [] };
    }
    made.set(to, now);
    return now;
  });
  if (!joined) return code;
  return list.filter((piece) => !gone.has(piece)).flatMap(wordsOf);
}

/** Whether more than one instruction writes a series. */
function hasNeighbours(code: readonly number[]): boolean {
  let writers = 0;
  for (let pc = 0; pc < code.length; pc += WIDTH) if ((code[pc + 1] as number) < 0) writers++;
  return writers > 1;
}

function piecesOf(code: readonly number[]): readonly Piece[] {
  const pieces: Piece[] = [];
  for (let pc = 0; pc < code.length; pc += WIDTH) {
    const [number, to, a, b, c] = code.slice(pc, pc + WIDTH) as [
      number,
      number,
      number,
      number,
      number,
    ];
    const op = OPS[number] as Op;
    const base = { op, to, numbers: [] };
    if (op === 'step')
      pieces.push({ ...base, to: 0, places: [], shape: 0, words: [number, to, a, b, c] });
    else if (op === 'select' && to < 0) {
      const words = code.slice(pc, pc + 2 * WIDTH);
      pc += WIDTH;
      pieces.push({ ...base, places: [a, b, c], shape: words[2 * WIDTH - 1] as number, words });
    } else {
      const places = op === 'select' ? [a, b, c] : ONE_OPERAND.has(op) ? [a] : [a, b];
      pieces.push({ ...base, places, shape: c, words: [number, to, a, b, c] });
    }
  }
  return pieces;
}

function wordsOf({ op, to, places, numbers, shape, words }: Piece): readonly number[] {
  if (words.length > 0) return words;
  const [x = 0, y = x, z = x] = places;
  const [a = ONE, b = ONE, c = ONE] = numbers;
  return [joinNumber[op as Join], to, x, y, z, 0, a, b, c, shape];
}

interface Found {
  readonly op: Join;
  readonly places: readonly Operand[];
  readonly numbers: readonly number[];
  readonly parts: readonly Piece[];
}

type Source = (place: Operand) => Piece | undefined;

function joinOf(piece: Piece, source: Source): Found | undefined {
  const [a, b] = piece.places as [Operand, Operand];
  switch (piece.op) {
    case 'add':
      return joinSum(a, b, false, source);
    case 'sub':
      return joinSum(a, b, true, source);
    case 'mul':
      return joinProduct(a, b, source);
    case 'div':
      return b >= 0 ? joinOver(a, b, source) : undefined;
    case 'min':
    case 'max':
      return joinExtreme(piece.op, a, b, source);
    case 'select':
      return joinChoice(piece.places, source);
    default:
      return undefined;
  }
}

/** A series times a number, with the piece that says so. */
interface Term {
  readonly row: Operand;
  readonly factor: number;
  readonly parts: readonly Piece[];
}

function termOf(place: Operand, source: Source): Term {
  const piece = source(place);
  if (piece?.op === 'mul') {
    const [a, b] = piece.places as [Operand, Operand];
    if (a >= 0) return { row: b, factor: a, parts: [piece] };
    if (b >= 0) return { row: a, factor: b, parts: [piece] };
  }
  return { row: place, factor: ONE, parts: [] };
}

/** `a x + b`, with the pieces that say so; for a series alone there are none. */
interface Line extends Term {
  readonly add: number;
}

function lineOf(place: Operand, source: Source): Line {
  const piece = source(place);
  if (piece?.op === 'line') {
    const [factor, add] = piece.numbers as [number, number];
    return { row: piece.places[0] as Operand, factor, add, parts: [piece] };
  }
  if (piece?.op === 'add' || piece?.op === 'sub') {
    const [a, b] = piece.places as [Operand, Operand];
    const parts = [piece];
    const minus = piece.op === 'sub';
    if (b >= 0) return { row: a, factor: ONE, add: minus ? turned(b) : b, parts };
    if (a >= 0) return { row: b, factor: minus ? turned(ONE) : ONE, add: a, parts };
  }
  return { ...termOf(place, source), add: NOTHING };
}

function joinSum(a: Operand, b: Operand, minus: boolean, source: Source): Found | undefined {
  const sign = (code: number): number => (minus ? turned(code) : code);
  if (b >= 0) {
    const { row, factor, parts } = termOf(a, source);
    return parts.length === 0
      ? undefined
      : { op: 'line', places: [row], numbers: [factor, sign(b)], parts };
  }
  if (a >= 0) {
    const { row, factor, parts } = termOf(b, source);
    return parts.length === 0
      ? undefined
      : { op: 'line', places: [row], numbers: [sign(factor), a], parts };
  }
  const [left, right] = [source(a), source(b)];
  if (left?.op === 'mul' && left.places.every((place) => place < 0))
    return withProduct(left, termOf(b, source), sign);
  if (!minus && right?.op === 'mul' && right.places.every((place) => place < 0))
    return withProduct(right, termOf(a, source), sign);
  const over = (piece: Piece | undefined): piece is Piece =>
    piece?.op === 'div' && (piece.places[0] as number) < 0 && (piece.places[1] as number) >= 0;
  if (over(left)) {
    const { row, factor, parts } = termOf(b, source);
    const [x, by] = left.places as [Operand, Operand];
    return {
      op: 'over plus',
      places: [x, row],
      numbers: [ONE, by, sign(factor)],
      parts: [left, ...parts],
    };
  }
  if (over(right)) {
    const { row, factor, parts } = termOf(a, source);
    const [x, by] = right.places as [Operand, Operand];
    return {
      op: 'over plus',
      places: [x, row],
      numbers: [sign(ONE), by, factor],
      parts: [right, ...parts],
    };
  }
  if (left) {
    const sum = sumOf(left);
    if (sum) {
      const { row, factor, parts } = termOf(b, source);
      return {
        op: 'three terms',
        places: [...sum.places, row],
        numbers: [...sum.numbers, sign(factor)],
        parts: [left, ...parts],
      };
    }
  }
  const [x, y] = [termOf(a, source), termOf(b, source)];
  if (x.parts.length + y.parts.length === 0) return undefined;
  return {
    op: 'weighed sum',
    places: [x.row, y.row],
    numbers: [x.factor, sign(y.factor)],
    parts: [...x.parts, ...y.parts],
  };
}

function withProduct(product: Piece, term: Term, sign: (code: number) => number): Found {
  return {
    op: 'product plus',
    places: [...product.places, term.row],
    numbers: [sign(term.factor)],
    parts: [product, ...term.parts],
  };
}

/** Two weighed series added, joined already or not. */
function sumOf(piece: Piece): Pick<Found, 'places' | 'numbers'> | undefined {
  const { places, numbers } = piece;
  if (piece.op === 'weighed sum') return { places, numbers };
  if ((piece.op === 'add' || piece.op === 'sub') && places.every((place) => place < 0))
    return { places, numbers: [ONE, piece.op === 'sub' ? turned(ONE) : ONE] };
  return undefined;
}

/** A product is the same either way round. */
function joinProduct(a: Operand, b: Operand, source: Source): Found | undefined {
  if (a < 0 && b < 0) {
    for (const [one, other] of [
      [a, b],
      [b, a],
    ] as const) {
      const { row, factor, add, parts } = lineOf(one, source);
      if (parts.length === 0) continue;
      return add === NOTHING
        ? { op: 'times times', places: [row, other], numbers: [factor], parts }
        : { op: 'line times row', places: [row, other], numbers: [factor, add], parts };
    }
    return undefined;
  }
  const [row, number] = a < 0 ? [a, b] : [b, a];
  const piece = source(row);
  if (piece?.op === 'mul' && piece.places.every((place) => place < 0))
    return { op: 'product times', places: piece.places, numbers: [number], parts: [piece] };
  if (piece?.op === 'max' || piece?.op === 'min') {
    const [p, q] = piece.places as [Operand, Operand];
    const isMax = piece.op === 'max';
    if (q >= 0)
      return {
        op: isMax ? 'max times' : 'min times',
        places: [p],
        numbers: [number, q],
        parts: [piece],
      };
    if (p >= 0)
      return {
        op: isMax ? 'least times' : 'most times',
        places: [q],
        numbers: [number, p],
        parts: [piece],
      };
  }
  const sum = piece && sumOf(piece);
  if (piece && sum)
    return { op: 'sum times', ...sum, numbers: [...sum.numbers, number], parts: [piece] };
  const line = lineOf(row, source);
  if (line.parts.length === 0) return undefined;
  return {
    op: 'line times',
    places: [line.row],
    numbers: [line.factor, line.add, number],
    parts: line.parts,
  };
}

/** A series over a number. */
function joinOver(a: Operand, number: Operand, source: Source): Found | undefined {
  const piece = source(a);
  if (piece?.op === 'mul' && piece.places.every((place) => place < 0))
    return { op: 'product over', places: piece.places, numbers: [number], parts: [piece] };
  const { row, factor, add, parts } = lineOf(a, source);
  if (parts.length === 0) return undefined;
  return add === NOTHING
    ? { op: 'times over', places: [row], numbers: [factor, number], parts }
    : { op: 'line over', places: [row], numbers: [factor, add, number], parts };
}

/** Which of two equal numbers is taken depends on their order: a zero may have either sign. */
function joinExtreme(op: 'min' | 'max', a: Operand, b: Operand, source: Source): Found | undefined {
  if (a < 0 && b < 0) return undefined;
  const [place, number] = a < 0 ? [a, b] : [b, a];
  const { row, factor, add, parts } = lineOf(place, source);
  if (parts.length === 0) return undefined;
  const join =
    op === 'max' ? (a < 0 ? 'line max' : 'line least') : a < 0 ? 'line min' : 'line most';
  return { op: join, places: [row], numbers: [factor, add, number], parts };
}

function joinChoice(places: readonly Operand[], source: Source): Found | undefined {
  const [condition, a, b] = places as [Operand, Operand, Operand];
  const piece = source(condition);
  if (!piece || a < 0 || b < 0 || (piece.op !== 'lt' && piece.op !== 'gt')) return undefined;
  const [x, than] = piece.places as [Operand, Operand];
  if (x >= 0 || than < 0) return undefined;
  return {
    op: piece.op === 'lt' ? 'below' : 'above',
    places: [x],
    numbers: [than, a, b],
    parts: [piece],
  };
}
