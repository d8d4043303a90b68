// A checked notebook to a program: places for every node, instructions in dependency order, circles
// as loops, sites linked to their cones.

import type { Checked } from '../check/check.ts';
import { isSameList } from '../check/recheck.ts';
import { Rejected } from '../check/rejected.ts';
import type { GraphNode } from '../check/scope.ts';
import { componentCount } from '../check/type.ts';
import type { Expr } from '../check/typed.ts';
import { visitExpr } from '../check/typed-walk.ts';
import { callContext } from './call-context.ts';
import { scalar, vector } from './compile-expression.ts';
import { Emitter, Layout, type LoopFrame } from './emitter.ts';
import { stronglyConnected } from './graph.ts';
import { joinRows } from './join-rows.ts';
import { circleFaults } from './knots.ts';
import { linkPools, linkSites } from './link.ts';
import { Machine } from './machine.ts';
import type { Fault, Operand } from './memory.ts';
import { type Needs, needsOf, turnedRound } from './needs.ts';
import type { CodeRange, Program, Unit } from './program.ts';
import { RunSites } from './sites.ts';

export interface Compiled {
  readonly program: Program;
  readonly machine: Machine;
  readonly sites: RunSites;
  /** Where single cells are compiled again. */
  readonly workbench: Emitter;
  /** The text of a text's number. */
  readonly textOf: (id: number) => string;
}

/** Places to spare for cells that are compiled again. */
const SPARE_SCALARS = 1024;
const SPARE_ROWS = 32;

export function compile(checked: Checked): Compiled {
  const { nodes, scope } = checked;
  const texts: string[] = [];
  for (const [text, id] of checked.texts) texts[id] = text;
  const textOf = readerOf(texts);
  const { header } = scope.notebook;
  const e = new Emitter(callContext(header.place, textOf), header.seed, header.trials);
  const sites = new RunSites(
    nodes.map((n) => n.key),
    header.trials,
  );
  const broken = new Map<number, Fault>();
  const knots = new Set<number>();
  for (const node of nodes) if (!node.expr || !node.type) broken.set(node.id, brokenWhy(node));
  waitForRoots(broken);

  const draws = nodes.map(drawsOf);
  const needs = needsOf(nodes, draws);
  const needed = (id: number): readonly number[] =>
    broken.has(id) ? [] : (needs.of[id] as readonly number[]);
  const groups = stronglyConnected({ count: nodes.length, draws: needed });
  const units: Unit[] = [];
  const unitOf = new Int32Array(nodes.length).fill(-1);
  const pendingCode: Pending[] = [];

  const addUnit = (unit: Omit<Unit, 'id' | 'code'>, code: Pending): void => {
    const id = units.length;
    const { nodes: members, loop } = unit;
    // Written out: an object that begins with another's fields gets a layout of its own to keep.
    units.push(
      loop
        ? { id, nodes: members, code: { from: 0, to: 0 }, loop }
        : { id, nodes: members, code: { from: 0, to: 0 } },
    );
    pendingCode.push(code);
    for (const node of unit.nodes) unitOf[node] = id;
  };

  // What is run again within a formula may stand further on in the order than the formula itself.
  e.typeOf = (id) => (broken.has(id) ? undefined : nodes[id]?.type);
  const isTaken = (place: Operand): boolean => e.takenSet.has(place);
  const compileAlone = (id: number): void => {
    const node = nodes[id] as GraphNode;
    try {
      const code = e.aside(() => {
        const found = vector({ e, sites, vector, owner: id }, node.expr as Expr);
        e.operands[id] = ownPlaces(e, node, found, e.operands[id]);
      });
      const joined = joinRows(code, node.type, isTaken);
      addUnit({ nodes: [id] }, { code: joined, apart: code, before: NOTHING, bodies: NO_BODIES });
    } catch (error) {
      if (!(error instanceof Rejected)) throw error;
      broken.set(id, faultOf(error));
      e.operands[id] ??= [];
    }
  };
  for (const group of groups) {
    const [first] = group as [number];
    if (group.length === 1 && !needed(first).includes(first)) {
      if (broken.has(first)) e.operands[first] ??= [];
      else compileAlone(first);
      continue;
    }
    const made = compileCircle(e, sites, nodes, group, needed, addUnit);
    if (made === 'done') continue;
    for (const [id, fault] of circleFaults(nodes, group, needed)) {
      compileAlone(id);
      // What cannot be compiled has a reason of its own.
      if (broken.has(id)) continue;
      knots.add(id);
      broken.set(id, fault.kind === 'error' && made ? made : fault);
    }
  }

  // Lay the code out: units in order, then the bodies of sites.
  const layout = new Layout();
  units.forEach((unit, i) => {
    const p = pendingCode[i] as Pending;
    const code = layout.place(p.code);
    const mutable = unit as { code: CodeRange; apart?: CodeRange; loop?: Unit['loop'] };
    mutable.code = code;
    if (p.apart && p.apart !== p.code) mutable.apart = layout.place(p.apart);
    if (unit.loop)
      mutable.loop = {
        ...unit.loop,
        before: layout.place(p.before),
        members: unit.loop.members.map((member, k) => ({
          ...member,
          code: layout.place(p.bodies[k] as number[]),
        })),
      };
  });
  for (const site of sites.sites) site.body = layout.place(site.instructions);
  // What keeps a function of this one keeps its lists as well.
  pendingCode.length = 0;

  const code = layout.finish();
  e.codeEnd = code.length;
  e.code = [];

  const position = new Int32Array(nodes.length).fill(-1);
  units.forEach((unit, i) => {
    for (const id of unit.nodes) position[id] = i;
  });
  const program: Program = {
    nodes,
    textOf: (item) => scope.notebook.items[item]?.source ?? '',
    seed: header.seed,
    trials: header.trials,
    operands: e.operands,
    code,
    steps: e.steps,
    stepCosts: e.stepCosts,
    shapes: e.shapes,
    units,
    unitOf,
    constants: e.constants,
    scalarCount: e.scalarCount + SPARE_SCALARS,
    rowCount: e.rowCount + SPARE_ROWS,
    axisCount: checked.axisCount,
    rowLengths: [...scope.tables.values()].map((t) => ({ axis: t.rows.id, length: t.rowCount })),
    broken,
    knots,
    slow: new Uint8Array(nodes.length),
    draws,
    drawnOnBy: drawnOnByOf(draws, needs),
    needs,
    position,
  };
  const machine = new Machine(program, sites);
  sites.runner = machine;
  link(program, sites);
  linkPools(program, sites);
  return { program, machine, sites, workbench: e, textOf };
}

const NO_DRAWS: readonly number[] = [];

/** What a node names, itself only where it looks back at itself. */
function drawsOf({ id, draws, looksBack }: GraphNode): readonly number[] {
  if (draws.size === 0) return NO_DRAWS;
  const list = [...draws];
  return draws.has(id) && !looksBack.has(id) ? list.filter((on) => on !== id) : list;
}

/** Who draws on each node; what is needed by the same ones has the same list. */
function drawnOnByOf(
  draws: readonly (readonly number[])[],
  needs: Needs,
): readonly (readonly number[])[] {
  if (draws.every((list, id) => list === needs.of[id])) return needs.by.slice();
  return turnedRound(draws).map((list, id) => {
    const by = needs.by[id];
    return by && isSameList(by, list) ? by : list;
  });
}

/** Apart, so that what is kept for reading texts keeps nothing else alive. */
function readerOf(texts: readonly string[]): (id: number) => string {
  return (id) => texts[id] ?? '';
}

function brokenWhy(node: GraphNode): Fault {
  if (node.problem) return { kind: 'error', text: node.problem.text, code: node.problem.code };
  const [on] = node.waits;
  return on === undefined
    ? { kind: 'error', text: 'This cannot be worked out.', code: 'no-number' }
    : { kind: 'waits', on };
}

/** What waits for one that waits is told the last of the chain, however long it is. */
function waitForRoots(broken: Map<number, Fault>): void {
  for (const id of broken.keys()) {
    const chain: number[] = [];
    let at = id;
    let fault = broken.get(at);
    while (fault?.kind === 'waits' && chain.length < broken.size) {
      chain.push(at);
      at = fault.on;
      fault = broken.get(at);
    }
    const waits: Fault = { kind: 'waits', on: at };
    for (const one of chain) broken.set(one, waits);
  }
}

function faultOf({ diagnostic }: Rejected): Fault {
  return {
    kind: 'error',
    text: diagnostic?.text ?? 'This cannot be worked out.',
    code: diagnostic?.code ?? 'no-number',
  };
}

/**
 * A node's places are its own: what belongs to another node or to a constant is copied. `kept` are
 * places that others know already.
 */
function ownPlaces(
  e: Emitter,
  node: GraphNode,
  results: readonly Operand[],
  kept: readonly Operand[] | undefined,
): readonly Operand[] {
  const type = node.type as NonNullable<GraphNode['type']>;
  const taken = e.takenSet;
  const isSingle = type.axes.length === 0 && type.kind !== 'window';
  const [only] = results;
  // Most are one number, and stand where they were made.
  if (!kept && isSingle && results.length === 1 && only !== undefined && only >= 0)
    if (!taken.has(only)) {
      taken.add(only);
      // A list that grew has room for more; this one has not.
      return [only];
    }
  return results.map((operand, j) => {
    const series = !isSingle;
    if (!kept && !taken.has(operand) && operand < 0 === series) {
      taken.add(operand);
      return operand;
    }
    const dst = kept?.[j] ?? (series ? e.newRow() : e.newScalar());
    if (type.kind === 'window')
      e.step({ run: (m) => void m.own(~dst, m.array(operand).length).set(m.array(operand)) });
    else e.emit('copy', dst, operand, operand, e.shape(type.axes));
    taken.add(dst);
    return dst;
  });
}

/** Code of a unit that waits to be laid out. */
interface Pending {
  readonly code: readonly number[];
  readonly apart?: readonly number[];
  readonly before: readonly number[];
  readonly bodies: readonly number[][];
}
const NOTHING: readonly number[] = [];
const NO_BODIES: readonly number[][] = [];

/** A circle that runs along one axis and looks back becomes a loop; nothing when this is none. */
function compileCircle(
  e: Emitter,
  sites: RunSites,
  nodes: readonly GraphNode[],
  group: readonly number[],
  needs: (id: number) => readonly number[],
  addUnit: (unit: Omit<Unit, 'id' | 'code'>, code: Pending) => void,
): 'done' | Fault | undefined {
  const members = new Set(group);
  const axis = nodes[group[0] as number]?.type?.axes[0];
  const runsAlong = (id: number): boolean => {
    const axes = nodes[id]?.type?.axes;
    return axes?.length === 1 && axes[0] === axis;
  };
  if (!axis || !group.every(runsAlong)) return undefined;
  // Within one place the members follow each other; only looking back crosses places.
  const inner = stronglyConnected({
    count: nodes.length,
    draws: (id) =>
      members.has(id)
        ? needs(id).filter((to) => members.has(to) && !nodes[id]?.looksBack.has(to))
        : [],
  }).filter((g) => members.has(g[0] as number));
  const isKnot = ([first, second]: readonly number[]): boolean =>
    second !== undefined ||
    (needs(first as number).includes(first as number) &&
      !nodes[first as number]?.looksBack.has(first as number));
  if (inner.some(isKnot)) return undefined;
  const order = inner.map((g) => g[0] as number);
  for (const id of order) {
    const type = nodes[id]?.type as NonNullable<GraphNode['type']>;
    const places = e.operands[id] ?? Array.from({ length: componentCount(type) }, () => e.newRow());
    for (const p of places) e.takenSet.add(p);
    e.operands[id] = places;
  }
  const siteCount = sites.sites.length;
  const frame: LoopFrame = { axis, members, now: new Map(), before: [] };
  try {
    const bodies = order.map((id) =>
      e.aside(() => {
        const node = nodes[id] as GraphNode;
        const results = scalar({ e, sites, vector, owner: id }, node.expr as Expr, frame);
        // Slots of its own, so that a run in which this member is replaced can put values there.
        const now = results.map((from) => {
          const slot = e.newScalar();
          e.emit('copy', slot, from, from, 0);
          return slot;
        });
        frame.now.set(id, now);
      }),
    );
    const members = order.map((id) => ({
      node: id,
      now: frame.now.get(id) as readonly Operand[],
      rows: e.operands[id] as readonly Operand[],
      code: { from: 0, to: 0 },
    }));
    addUnit(
      { nodes: order, loop: { axis, before: { from: 0, to: 0 }, members } },
      { code: [], before: frame.before, bodies },
    );
    return 'done';
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    sites.keep(siteCount);
    return faultOf(error);
  }
}

/** Works out what follows from the edges: the cones of sites, and what is put off. */
export function link(program: Program, sites: RunSites): void {
  for (const site of sites.sites) site.invalid = '';
  linkSites(program, sites);
  program.slow.fill(0);
  markSlow(program, sites);
}

/** Series in a cone from which on running it again is put off, so that an edit shows at once. */
const MANY_SERIES = 4;

/** Trials, solving, sweeps and long runs with something changed are put off; so is what draws on them. */
function markSlow(program: Program, sites: RunSites): void {
  const heavy = new Set<number>();
  for (const node of program.nodes) {
    if (!node.expr || (program.broken.has(node.id) && !program.knots.has(node.id))) continue;
    visitExpr(node.expr, (x) => {
      if (
        x.op === 'solve' ||
        x.op === 'chance' ||
        x.op === 'percentile' ||
        (x.op === 'with' && x.sweeps.length > 0)
      )
        heavy.add(node.id);
    });
  }
  for (const site of sites.sites) {
    let series = 0;
    for (const action of site.cone) {
      if (action.kind !== 'unit') continue;
      const unit = program.units[action.unit];
      for (const id of unit?.nodes ?? [])
        if (program.nodes[id]?.type?.axes.some((axis) => axis.kind === 'timeline'))
          series += unit?.loop ? 2 : 1;
    }
    // A what-if that is a series, such as a second panel, belongs to the plan and is never put off.
    const result = program.nodes[site.owner]?.type;
    if (series >= MANY_SERIES && result?.axes.length === 0) heavy.add(site.owner);
  }
  const stack = [...heavy];
  while (stack.length > 0) {
    const id = stack.pop() as number;
    if (program.slow[id] === 1) continue;
    program.slow[id] = 1;
    for (const by of program.drawnOnBy[id] ?? []) stack.push(by);
  }
}
