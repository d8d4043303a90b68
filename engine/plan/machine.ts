// Runs a program on a memory: units in order, circles place by place, faults kept as values. It also
// serves the sites, which run parts of the program again in child memories.

import { type Axis, componentCount } from '../check/type.ts';
import {
  type Batch,
  executeBatch,
  type Following,
  followingOf,
  isFixed,
  type Order,
  orderOf,
  type Stream,
  unitsAfter,
} from './batch.ts';
import { type Circle, circleOf, runCircle } from './circle.ts';
import { type Cost, costOfCode, costOfUnit, passesOf } from './cost.ts';
import { closure } from './graph.ts';
import { Inspector, rootOf } from './inspect.ts';
import { execute, firstUnfit, lengthOf } from './kernels.ts';
import { coneOf } from './link.ts';
import { type AxisValue, type Fault, Memory, type Operand, waitingFor } from './memory.ts';
import { namedIn } from './needs.ts';
import type { CodeRange, Program, Unit } from './program.ts';
import { type QuickCone, quickCone, runQuickCone, streamCone } from './quick-cone.ts';
import type { ConeAction, Replacement, RunSites, Site, SiteRunner, TrialCone } from './sites.ts';
import { trialInputs } from './trial-pool.ts';
import { type Drawn, TrialStream } from './trial-stream.ts';

/** Work that one cell may ask for by running the notebook again; some seconds. Stated in the reference. */
export const MOST_WORK = 2_000_000;
const TOO_MUCH =
  'This runs the notebook again too many times. Take fewer steps or trials, or a coarser timeline.';

const NONE: ReadonlySet<number> = new Set();

/** Members of a circle that a run replaces. */
function heldIn(unit: Unit, list: readonly Replacement[], m: Memory): ReadonlySet<number> {
  const held = unit.nodes.filter(
    (id) => m.heldBefore.has(id) || list.some((r) => r.row === undefined && r.node === id),
  );
  return held.length === 0 ? NONE : new Set(held);
}

const NO_UNITS: readonly Unit[] = [];
const NOTHING_PUT_IN: readonly Replacement[] = [];

/** What putting another number in reached. */
export interface Reached {
  /** Nodes whose values may be others now, the one that was put in among them. */
  readonly moved: ReadonlySet<number>;
  /** Put-off units among what follows; they were not worked. */
  readonly late: readonly Unit[];
}

function anyFault(m: Memory, nodes: Int32Array): boolean {
  for (let i = 0; i < nodes.length; i++)
    if (m.faults[nodes[i] as number] !== undefined) return true;
  return false;
}

export class Machine implements SiteRunner {
  readonly program: Program;
  /** Made when first asked for: by then it is known what is put off. */
  #order: Order | undefined;
  /** What follows the cells that were moved, by cell, and of the one that was moved last. */
  readonly #following = new Map<number, Following>();
  #latest: Following | undefined;
  #beneathSites: ReadonlyMap<number, ReadonlySet<number>> | undefined;
  readonly #streams = new WeakMap<Stream, QuickCone>();
  readonly #circles = new Map<NonNullable<Unit['loop']>, Circle>();
  readonly #sites: RunSites;
  readonly #inspector: Inspector;
  /** What units take, and the bodies of sites; made when first asked for. */
  #costs: (Cost | undefined)[] = [];
  #bodies = new Map<Site, Cost>();
  /** What the outermost run at work has cost so far. */
  #spent = 0;
  /** Replacements waiting in a child, by memory. */
  readonly #waiting = new WeakMap<Memory, Replacement[]>();

  constructor(program: Program, sites: RunSites) {
    this.program = program;
    this.#sites = sites;
    this.#inspector = new Inspector(program, sites, (range, m) => this.execute(range, m));
  }

  newMemory(): Memory {
    const p = this.program;
    const m = new Memory(p.scalarCount, p.rowCount, p.axisCount, p.nodes.length);
    for (const { slot, value } of p.constants) m.scalars[slot] = value;
    for (const { id, expr } of p.nodes) {
      if (expr?.op !== 'const' || !isFixed(p, id)) continue;
      p.operands[id]?.forEach((operand, j) => {
        m.scalars[operand] = (expr.values[j] as number) + 0;
      });
    }
    for (const { axis, length } of p.rowLengths)
      m.axes[axis] = { length, start: 0, end: 0, step: 0, places: new Float64Array(0) };
    for (const [node, why] of p.broken) m.faults[node] = why;
    return m;
  }

  execute(range: CodeRange, m: Memory): void {
    execute(this.program.code, range, m, this.program.steps, this.program.shapes);
  }

  /** Works one unit; its nodes get their values or their faults. Returns false when it failed. */
  runUnit(unit: Unit, m: Memory, held: ReadonlySet<number> = NONE): boolean {
    const p = this.program;
    for (const id of unit.nodes) {
      for (const on of p.needs.of[id] as readonly number[]) {
        if (m.faults[on] === undefined || unit.nodes.includes(on)) continue;
        const own = waitingFor(on, m.faults[on] as Fault);
        for (const node of unit.nodes) m.faults[node] = own;
        m.faulty = true;
        return false;
      }
    }
    m.problem = '';
    if (unit.loop) this.#runLoop(unit.loop, m, held);
    else {
      m.index = 0;
      this.execute(unit.code, m);
    }
    const fine = this.#inspector.inspect(unit, m, held);
    if (!fine) m.faulty = true;
    return fine;
  }

  /** Works everything that is not put off; what is, only if `slow`. */
  runAll(m: Memory, slow: boolean): void {
    this.#order ??= orderOf(this.program, (unit) => this.#isAlone(unit));
    const { parts, slow: late } = this.#order;
    if (m.faulty) {
      for (const part of parts)
        if (!('id' in part)) for (const id of part.nodes) m.faults[id] = undefined;
      m.faulty = false;
    }
    let clean = true;
    for (let i = 0; i < parts.length; i++) {
      const part = parts[i] as Batch | Stream | Unit;
      if ('runs' in part) clean = this.#runBatch(part, m, clean);
      else if ('stream' in part) this.#runStream(part, m);
      else this.runUnit(part, m);
    }
    if (slow) for (const unit of late) this.runUnit(unit, m);
  }

  /** Whether a unit is no good company for others: it waits, turns in a circle, or runs other parts. */
  #isAlone(unit: Unit): boolean {
    const { nodes, broken, needs, slow } = this.program;
    return (
      unit.loop !== undefined ||
      unit.nodes.some(
        (id) =>
          !nodes[id]?.type ||
          nodes[id]?.expr?.op === 'blank' ||
          this.#sites.owners.has(id) ||
          // An absent entry must be told from a number that is none, cell by cell.
          nodes[id]?.type?.optional ||
          (needs.of[id] ?? []).some((on) => broken.has(on) || slow[on] === 1),
      )
    );
  }

  #runStream(stream: Stream, m: Memory): void {
    if (!anyFault(m, stream.outside)) {
      let cone = this.#streams.get(stream);
      if (!cone) {
        cone = streamCone(this.program, stream.stream);
        this.#streams.set(stream, cone);
      }
      if (this.runQuick(cone, NOTHING_PUT_IN, m)) return;
    }
    for (const unit of stream.stream) this.runUnit(unit, m);
  }

  /** All cells together, or one by one when something upstream or here has a fault. */
  #runBatch(batch: Batch, m: Memory, clean: boolean): boolean {
    if (clean && !anyFault(m, batch.outside) && executeBatch(batch, m.scalars)) return true;
    for (const unit of batch.units) this.runUnit(unit, m);
    return false;
  }

  /**
   * Puts another number in place of a cell's and works what follows it; the work stops where single
   * numbers come out as they were. Put-off units that are reached are not worked.
   */
  put(id: number, value: number, m: Memory): Reached {
    const following = this.#latest?.id === id ? this.#latest : this.#follow(id);
    const { batch, units } = following;
    m.scalars[following.place] = value;
    // What has no fault draws on nothing that has one.
    if (batch && !(m.faulty && anyFault(m, batch.nodes))) {
      if (executeBatch(batch, m.scalars)) return { moved: following.nodes, late: NO_UNITS };
      // What was there before is written over: nothing tells any more what stayed as it was.
      const all = new Set(following.nodes);
      return { moved: all, late: this.#followUnits(units, all, m) };
    }
    const moved = new Set([id]);
    return { moved, late: this.#followUnits(units, moved, m) };
  }

  /** A cell's own instructions are others now; what follows it is the same, what leads to it is not. */
  forget(id: number): void {
    const own = this.#following.get(id);
    if (this.#following.size > 1 || !own) {
      this.#following.clear();
      if (own) this.#following.set(id, own);
      this.#latest = undefined;
    }
    this.#order = undefined;
    this.#beneathSites = undefined;
    this.#costs = [];
    if (this.#bodies.size > 0) this.#bodies.clear();
    // Kept trials are known by the numbers that went in; what was done with those is another thing now.
    for (const pool of this.#sites.pools.values()) pool.kept = undefined;
  }

  /** Works a cell whose formula is another one now, and what follows it, as `put` does. */
  rework(id: number, m: Memory): Reached {
    const unit = this.program.units[this.program.unitOf[id] ?? -1] as Unit;
    const moves = this.#moves(unit, m, () => this.runUnit(unit, m));
    // With something else put in, a formula that gives the same value now may give another one.
    if (!moves && ![...this.#beneath().values()].some((nodes) => nodes.has(id)))
      return { moved: NONE, late: NO_UNITS };
    const [place, ...more] = this.program.operands[id] as readonly Operand[];
    if (place !== undefined && place >= 0 && more.length === 0 && m.faults[id] === undefined)
      return this.put(id, m.scalars[place] as number, m);
    const moved = new Set([id]);
    return { moved, late: this.#followUnits(unitsAfter(this.program, id), moved, m) };
  }

  #follow(id: number): Following {
    let found = this.#following.get(id);
    if (!found) {
      found = followingOf(this.program, id);
      this.#following.set(id, found);
    }
    this.#latest = found;
    return found;
  }

  /**
   * Works the units that draw on something that moved, in the order given, and adds to `moved` what
   * does not come out as it was. Returns the put-off units that are reached; those are not worked.
   */
  #followUnits(units: readonly Unit[], moved: Set<number>, m: Memory): readonly Unit[] {
    const { slow } = this.program;
    const late: Unit[] = [];
    for (const unit of units) {
      if (!this.#isReached(unit, moved)) continue;
      if (unit.nodes.some((node) => slow[node] === 1)) {
        for (const node of unit.nodes) moved.add(node);
        late.push(unit);
      } else if (this.#moves(unit, m, () => this.runUnit(unit, m)))
        for (const node of unit.nodes) moved.add(node);
    }
    return late;
  }

  /**
   * Whether something that moved leads to this unit. A formula that runs part of the notebook again
   * depends on everything beneath what it asks for: with a reserve put in, a lowest charge may move
   * that stands still in the notebook itself.
   */
  #isReached(unit: Unit, moved: ReadonlySet<number>): boolean {
    const { draws } = this.program;
    for (const node of unit.nodes)
      for (const on of draws[node] as readonly number[]) if (moved.has(on)) return true;
    const beneath = this.#beneath().get(unit.id);
    if (beneath) for (const node of beneath) if (moved.has(node)) return true;
    return false;
  }

  /** What the formulas that run part of the notebook again depend on, by unit. */
  #beneath(): ReadonlyMap<number, ReadonlySet<number>> {
    if (this.#beneathSites) return this.#beneathSites;
    const made = new Map<number, Set<number>>();
    for (const { owner, reads } of this.#sites.sites) {
      const unit = this.program.unitOf[owner] ?? -1;
      const known = made.get(unit) ?? new Set();
      const named = namedIn(reads);
      for (const id of closure(named, (node) => this.program.draws[node] ?? [])) known.add(id);
      made.set(unit, known);
    }
    this.#beneathSites = made;
    return made;
  }

  /** Whether a unit comes out otherwise than before; only of single numbers is that looked at. */
  #moves(unit: Unit, m: Memory, work: () => void): boolean {
    const [only] = unit.nodes as [number];
    const places = this.program.operands[only] as readonly Operand[];
    const single = unit.nodes.length === 1 && places.every((place) => place >= 0);
    const before = single ? places.map((place) => m.scalars[place]) : [];
    const faultBefore = m.faults[only];
    work();
    return !(
      single &&
      faultBefore === undefined &&
      m.faults[only] === undefined &&
      places.every((place, j) => Object.is(m.scalars[place], before[j]))
    );
  }

  /** Place by place; a held member keeps the values that were put in its rows. */
  #runLoop(loop: NonNullable<Unit['loop']>, m: Memory, held: ReadonlySet<number>): void {
    m.index = 0;
    this.execute(loop.before, m);
    const { length } = m.axes[loop.axis.id] as AxisValue;
    for (const member of loop.members)
      if (!held.has(member.node)) for (const row of member.rows) m.own(~row, length);
    if (!loop.members.some(({ node }) => held.has(node))) {
      let circle = this.#circles.get(loop);
      if (!circle) {
        circle = circleOf(this.program, loop);
        this.#circles.set(loop, circle);
      }
      runCircle(circle, length, m, this.program);
      return;
    }
    for (let i = 0; i < length; i++) {
      m.index = i;
      for (const member of loop.members) {
        const { rows, now } = member;
        if (held.has(member.node)) {
          for (let j = 0; j < rows.length; j++)
            m.scalars[now[j] as number] = (m.rows[~(rows[j] as number)] as Float64Array)[
              i
            ] as number;
          continue;
        }
        this.execute(member.code, m);
        for (let j = 0; j < rows.length; j++)
          (m.rows[~(rows[j] as number)] as Float64Array)[i] = m.scalars[now[j] as number] as number;
      }
    }
    m.index = 0;
  }

  // ── sites ─────────────────────────────────────────────────────────────────────────────────────

  childOf(parent: Memory): Memory {
    const p = this.program;
    // What runs within runs counts together.
    if (parent.depth === 0) this.#spent = 0;
    // One after the other: what a run leaves behind nobody reads once the next begins.
    parent.child ??= new Memory(p.scalarCount, p.rowCount, p.axisCount, p.nodes.length);
    const { child } = parent;
    child.depth = parent.depth + 1;
    child.follow(parent);
    child.problem = '';
    child.root = -1;
    this.#waiting.set(child, []);
    return child;
  }

  replace(
    child: Memory,
    node: number,
    row: number | undefined,
    value: (component: number, place: number) => number,
  ): void {
    // What is put in here stands still, whatever a scenario would draw there.
    const isHere = (one: { readonly node: number; readonly row: number | undefined }): boolean =>
      one.node === node && (row === undefined || one.row === row);
    if (child.instead.size > 0 && [...child.instead.values()].some(isHere))
      child.instead = new Map([...child.instead].filter(([, one]) => !isHere(one)));
    this.#wait(child, { node, row, value });
  }

  #wait(child: Memory, made: Replacement): void {
    const { node, row } = made;
    const list = this.#waiting.get(child) ?? [];
    const at = list.findIndex((r) => r.node === node && r.row === row);
    if (at >= 0) list[at] = made;
    else list.push(made);
    this.#waiting.set(child, list);
  }

  /** The trials of a site in its child: works the one that is asked for, like `runCone`. */
  trialsOf(site: Site, child: Memory): (trial: number) => boolean {
    const { cone, drawn } = this.#trialConeOf(site, child);
    const stream = new TrialStream(this, cone, this.#drawnIn(drawn, child), NOTHING_PUT_IN, child);
    return (trial) => {
      if (!this.#affords(site, cone, child, this.#sites.trials - trial)) return false;
      stream.run(trial);
      return this.#isWell(site, child);
    };
  }

  /** What a trial in this child draws: of nodes and entries that stand still there nothing. */
  #drawnIn(nodes: readonly number[], child: Memory): readonly Drawn[] {
    return nodes.flatMap((node) => {
      const name = this.#sites.drawName(node);
      const found: Drawn[] = [];
      for (const { node: at, row, distribution } of child.instead.values())
        if (at === node) found.push({ node, row, name, distribution });
      if (child.heldBefore.has(node)) return found;
      const { distribution, entryDistributions = [] } = this.program.nodes[node] ?? {};
      if (distribution) found.push({ node, row: undefined, name, distribution });
      for (const { row, distribution: entry } of entryDistributions)
        if (!child.heldRowsBefore.has(`${node}:${row}`))
          found.push({ node, row, name, distribution: entry });
      return found;
    });
  }

  /** What a site draws and works: more where a scenario puts uncertain amounts in, or ends a circle. */
  #trialConeOf(site: Site, child: Memory): TrialCone {
    const { knots } = this.program;
    const nodes = site.kind === 'trials' ? [...child.instead.values()] : [];
    const held = knots.size === 0 ? [] : [...child.heldBefore].filter((id) => knots.has(id));
    if (nodes.length === 0 && held.length === 0) return site;
    const key = `${[...child.instead.keys()].join()} ${held.join()}`;
    const made = site.variants.get(key) ?? coneOf(this.program, site, nodes, held);
    site.variants.set(key, made);
    return made;
  }

  inputsOf(site: Site, child: Memory): readonly number[] | undefined {
    return trialInputs(this.program, site, this.#trialConeOf(site, child).cone, child);
  }

  hasFailed(child: Memory, wanted: ReadonlySet<number>): boolean {
    for (const id of wanted) if (child.faults[id]) return true;
    return false;
  }

  /** Puts what waits for a whole node into its places. */
  #fill(m: Memory, r: Replacement): void {
    const p = this.program;
    const type = p.nodes[r.node]?.type;
    if (!type) return;
    const operands = p.operands[r.node] as readonly Operand[];
    if (operands.length !== componentCount(type)) return;
    m.faults[r.node] = r.fault;
    if (r.fault) m.faulty = true;
    if (!m.held.has(r.node)) m.held = new Set(m.held).add(r.node);
    if (!r.fault)
      operands.forEach((operand, component) => {
        if (operand >= 0) {
          m.scalars[operand] = r.value(component, 0);
          return;
        }
        const n = lengthOf(
          m,
          type.axes.map((axis: Axis) => axis.id),
        );
        const array = m.own(~operand, n);
        for (let i = 0; i < n; i++) array[i] = r.value(component, i);
      });
    if (r.fault || type.optional || type.kind === 'window') return;
    // An entry that is not there leaves nothing to work with where a value must be.
    if (operands.every((operand) => firstUnfit(m, operand, false) < 0)) return;
    m.faulty = true;
    m.faults[r.node] = {
      kind: 'error',
      code: 'nothing-put',
      text: `"${p.nodes[r.node]?.name ?? ''}" is replaced by something that has no value here. Put in an amount.`,
    };
  }

  /** Works the cone of a set of replacements. */
  runActions(actions: Site['cone'], list: readonly Replacement[], m: Memory): void {
    for (const action of actions) {
      if (action.kind === 'circle') {
        this.#knot(action.faults, m);
        continue;
      }
      if (action.kind === 'unit') {
        const unit = this.program.units[action.unit] as Unit;
        if (unit.loop) this.runUnit(unit, m, heldIn(unit, list, m));
        else if (!m.heldBefore.has(unit.nodes[0] as number)) this.runUnit(unit, m, NONE);
        continue;
      }
      for (const r of list) {
        if (r.node !== action.node || (r.row === undefined) !== (action.kind === 'replace'))
          continue;
        if (r.row === undefined) this.#fill(m, r);
        else this.#patch(m, r);
      }
    }
  }

  /** A cone with the same things put in many times, ready for that; nothing when it cannot be. */
  quickCone(actions: Site['cone'], list: readonly Replacement[], m: Memory): QuickCone | undefined {
    return quickCone(this.program, this.#sites, actions, list, m);
  }

  /** Works it; false when something is amiss, and then `runActions` must tell what. */
  runQuick(cone: QuickCone, list: readonly Replacement[], m: Memory): boolean {
    return runQuickCone(
      cone,
      this.program,
      m,
      (index) => {
        const r = list[index] as Replacement;
        if (r.row === undefined) this.#fill(m, r);
        else this.#patch(m, r);
      },
      (unit) => this.runUnit(unit, m, heldIn(unit, list, m)),
    );
  }

  /**
   * Works the part of a cone that something that moved leads to, and adds to `moved` what may be
   * another value now. What is put in place of a node counts as moved when `isPutAnew` says so.
   * Returns the put-off units that are reached; those are not worked.
   */
  followActions(
    actions: Site['cone'],
    list: readonly Replacement[],
    moved: Set<number>,
    isPutAnew: (r: Replacement) => boolean,
    m: Memory,
  ): readonly Unit[] {
    const { slow } = this.program;
    const late: Unit[] = [];
    for (const action of actions) {
      if (action.kind === 'circle') continue;
      if (action.kind === 'unit') {
        const unit = this.program.units[action.unit] as Unit;
        if (!this.#isReached(unit, moved)) continue;
        if (unit.nodes.some((node) => slow[node] === 1)) late.push(unit);
        else if (!this.#moves(unit, m, () => this.runUnit(unit, m, heldIn(unit, list, m))))
          continue;
        for (const node of unit.nodes) moved.add(node);
        continue;
      }
      for (const r of list) {
        if (r.node !== action.node || (r.row === undefined) !== (action.kind === 'replace'))
          continue;
        // An entry goes back into a column that was worked again.
        if (!isPutAnew(r) && !(r.row !== undefined && moved.has(r.node))) continue;
        if (r.row === undefined) this.#fill(m, r);
        else this.#patch(m, r);
        moved.add(r.node);
      }
    }
    return late;
  }

  /** A circle is left: its members have the message, or wait. */
  #knot(faults: ReadonlyMap<number, Fault>, m: Memory): void {
    for (const [id, fault] of faults) m.faults[id] = fault;
    m.faulty = true;
  }

  #patch(m: Memory, r: Replacement): void {
    const key = `${r.node}:${r.row}`;
    if (!m.heldRows.has(key)) m.heldRows = new Set(m.heldRows).add(key);
    if (r.fault) {
      m.faults[r.node] = r.fault;
      m.faulty = true;
      return;
    }
    const operands = this.program.operands[r.node] as readonly Operand[];
    operands.forEach((operand, component) => {
      const array = m.ownCopy(~operand);
      array[r.row as number] = r.value(component, r.row as number);
    });
  }

  /** Work of one pass through a cone: a unit counts one, and what its series and functions take. */
  costOf(cone: readonly ConeAction[], m: Memory): number {
    let cost = 1;
    for (const action of cone) {
      if (action.kind !== 'unit') continue;
      this.#costs[action.unit] ??= costOfUnit(
        this.program,
        this.program.units[action.unit] as Unit,
      );
      cost += 1 + passesOf(this.#costs[action.unit] as Cost, m);
    }
    return cost;
  }

  /**
   * Counts one more pass; false, and a message, when there were too many, or will be with as many like
   * it as are still to come.
   */
  #affords(site: Site, cone: Site['cone'], child: Memory, toCome: number): boolean {
    let body = this.#bodies.get(site);
    if (!body) {
      body = costOfCode(this.program, site.body);
      this.#bodies.set(site, body);
    }
    const cost = this.costOf(cone, child) + passesOf(body, child);
    this.#spent += cost;
    // What shares its trials may cost as much again, as the cells would one by one.
    const most = (site.also.size > 0 ? 2 : 1) * MOST_WORK;
    if (this.#spent + (toCome - 1) * cost <= most) return true;
    child.say('work-much', TOO_MUCH);
    return false;
  }

  /** Whether all that a site wants has a value; the child says what is wrong when not. */
  #isWell(site: Site, child: Memory): boolean {
    for (const id of site.wanted) {
      const fault = child.faults[id];
      if (!fault) continue;
      child.problem = '';
      const { code, text, root } = rootOf(this.program, child, id);
      child.say(code, text);
      child.root = root;
      return false;
    }
    return true;
  }

  runCone(site: Site, child: Memory, toCome = 1): boolean {
    const { cone } = this.#trialConeOf(site, child);
    if (!this.#affords(site, cone, child, toCome)) return false;
    this.runActions(cone, this.#waiting.get(child) ?? [], child);
    return this.#isWell(site, child);
  }
}
