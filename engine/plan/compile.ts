// A checked notebook to a program: places for every node, instructions in dependency order, circles
// as loops, sites linked to their cones.

import type { Checked } from '../check/check.ts';
import { Rejected } from '../check/rejected.ts';
import type { GraphNode } from '../check/scope.ts';
import { componentCount } from '../check/type.ts';
import type { Expr } from '../check/typed.ts';
import { visitExpr } from '../check/typed-walk.ts';
import { callContext } from './call-context.ts';
import { scalar, vector } from './compile-expression.ts';
import { Emitter, type LoopFrame } from './emitter.ts';
import { stronglyConnected } from './graph.ts';
import { joinRows } from './join-rows.ts';
import { linkPools, linkSites } from './link.ts';
import { Machine } from './machine.ts';
import type { Operand } from './memory.ts';
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
  const broken = new Map<number, { text?: string; on?: number }>();
  for (const node of nodes) if (!node.expr || !node.type) broken.set(node.id, brokenWhy(node));

  const draws = nodes.map((node) =>
    [...node.draws].filter((id) => id !== node.id || node.looksBack.has(id)).slice(),
  );
  const groups = stronglyConnected({
    count: nodes.length,
    draws: (id) => (broken.has(id) ? [] : (draws[id] as number[])),
  });
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

  for (const group of groups) {
    const [first] = group as [number];
    const node = nodes[first] as GraphNode;
    const circle = group.length > 1 || (draws[first] as number[]).includes(first);
    if (!circle) {
      if (broken.has(first)) {
        e.operands[first] = [];
        continue;
      }
      try {
        const code = e.aside(() => {
          e.operands[first] = ownPlaces(
            e,
            node,
            vector({ e, sites, vector, owner: first }, node.expr as Expr),
          );
        });
        const joined = joinRows(code, (place) => e.takenSet.has(place));
        addUnit({ nodes: [first] }, { code: joined, before: [], bodies: [] });
      } catch (error) {
        if (!(error instanceof Rejected)) throw error;
        broken.set(first, { text: error.diagnostic?.text ?? 'cannot be compiled' });
        e.operands[first] = [];
      }
      continue;
    }
    compileCircle(e, sites, nodes, group, broken, addUnit);
  }

  // Lay the code out: units in order, then the bodies of sites.
  e.code = [];
  units.forEach((unit, i) => {
    const p = pendingCode[i] as Pending;
    const code = e.place(p.code);
    const mutable = unit as { code: CodeRange; loop?: Unit['loop'] };
    mutable.code = code;
    if (unit.loop)
      mutable.loop = {
        ...unit.loop,
        before: e.place(p.before),
        members: unit.loop.members.map((member, k) => ({
          ...member,
          code: e.place(p.bodies[k] as number[]),
        })),
      };
  });
  for (const site of sites.sites) site.body = e.place(site.instructions);

  e.codeEnd = e.code.length;
  const code = Int32Array.from(e.code);
  e.code = [];

  const drawnOnBy: number[][] = nodes.map(() => []);
  draws.forEach((list, id) => {
    for (const on of list) if (on !== id) drawnOnBy[on]?.push(id);
  });
  const position = new Int32Array(nodes.length).fill(-1);
  units.forEach((unit, i) => {
    for (const id of unit.nodes) position[id] = i;
  });
  const program: Program = {
    nodes,
    seed: header.seed,
    trials: header.trials,
    operands: e.operands,
    code,
    steps: e.steps,
    shapes: e.shapes,
    units,
    unitOf,
    constants: e.constants,
    scalarCount: e.scalarCount + SPARE_SCALARS,
    rowCount: e.rowCount + SPARE_ROWS,
    axisCount: checked.axisCount,
    rowLengths: [...scope.tables.values()].map((t) => ({ axis: t.rows.id, length: t.rowCount })),
    broken,
    slow: new Uint8Array(nodes.length),
    draws,
    // A list that grew has room for more; a copy has not.
    drawnOnBy: drawnOnBy.map((list) => list.slice()),
    position,
  };
  const machine = new Machine(program, sites);
  sites.runner = machine;
  link(program, sites);
  linkPools(program, sites);
  return { program, machine, sites, workbench: e, textOf };
}

/** Apart, so that what is kept for reading texts keeps nothing else alive. */
function readerOf(texts: readonly string[]): (id: number) => string {
  return (id) => texts[id] ?? '';
}

function brokenWhy(node: GraphNode): { text?: string; on?: number } {
  if (node.problem) return { text: node.problem.text };
  const [on] = node.waits;
  return on === undefined ? { text: 'This cannot be worked out.' } : { on };
}

/** A node's places are its own: what belongs to another node or to a constant is copied. */
function ownPlaces(e: Emitter, node: GraphNode, results: readonly Operand[]): readonly Operand[] {
  const type = node.type as NonNullable<GraphNode['type']>;
  const taken = e.takenSet;
  return results.map((operand) => {
    const series = type.axes.length > 0 || type.kind === 'window';
    if (!taken.has(operand) && operand < 0 === series) {
      taken.add(operand);
      return operand;
    }
    const dst = series ? e.newRow() : e.newScalar();
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
  readonly before: readonly number[];
  readonly bodies: readonly number[][];
}

function compileCircle(
  e: Emitter,
  sites: RunSites,
  nodes: readonly GraphNode[],
  group: readonly number[],
  broken: Map<number, { text?: string; on?: number }>,
  addUnit: (unit: Omit<Unit, 'id' | 'code'>, code: Pending) => void,
): void {
  const members = new Set(group);
  const name = (id: number): string => nodes[id]?.name ?? '';
  const give = (text: string): void => {
    for (const id of group) {
      broken.set(id, { text });
      e.operands[id] = [];
    }
  };
  const axis = nodes[group[0] as number]?.type?.axes[0];
  if (
    !axis ||
    group.some(
      (id) =>
        nodes[id]?.type?.axes.length !== 1 || nodes[id]?.type?.axes[0] !== axis || broken.has(id),
    )
  ) {
    give(
      `"${name(group[0] as number)}" goes round in a circle: ${[...group, group[0] as number].map(name).join(' → ')}. A circle runs along one axis and looks back with previous(…).`,
    );
    return;
  }
  // Within one place the members follow each other; only looking back crosses places.
  const inner = stronglyConnected({
    count: nodes.length,
    draws: (id) =>
      members.has(id)
        ? [...(nodes[id] as GraphNode).draws].filter(
            (to) => members.has(to) && !(nodes[id] as GraphNode).looksBack.has(to),
          )
        : [],
  }).filter((g) => members.has(g[0] as number));
  const knot = inner.find((g) => g.length > 1);
  if (knot) {
    give(
      `"${name(knot[0] as number)}" goes round in a circle: ${[...knot, knot[0] as number].map(name).join(' → ')}. A step may look back with previous(…).`,
    );
    return;
  }
  const order = inner.map((g) => g[0] as number);
  for (const id of order) {
    const places = Array.from(
      { length: componentCount((nodes[id] as GraphNode).type as NonNullable<GraphNode['type']>) },
      () => e.newRow(),
    );
    for (const p of places) e.takenSet.add(p);
    e.operands[id] = places;
  }
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
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    give(error.diagnostic?.text ?? 'This circle cannot be computed.');
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
    if (!node.expr || program.broken.has(node.id)) continue;
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
