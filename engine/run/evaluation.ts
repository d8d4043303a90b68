// One notebook, checked and compiled, with the memories of its plan and of each scenario. Quick work
// is done at once; trials, solving and sweeps are put off and worked through later, unit by unit.

import type { Checked, CheckedScenario } from '../check/check.ts';
import { recheck } from '../check/recheck.ts';
import type { GraphNode } from '../check/scope.ts';
import type { Distribution } from '../check/typed.ts';
import type { Node } from '../language/ast.ts';
import type { Notebook } from '../notebook/notebook.ts';
import { type Compiled, compile } from '../plan/compile.ts';
import { closure } from '../plan/graph.ts';
import { coneNodes, orderCone } from '../plan/link.ts';
import type { Reached } from '../plan/machine.ts';
import {
  type AxisValue,
  type DrawnInstead,
  type Fault,
  type Memory,
  type Operand,
  placeKey,
  waitingFor,
} from '../plan/memory.ts';
import { patchNode } from '../plan/patch.ts';
import type { Program } from '../plan/program.ts';
import type { ConeAction, Replacement } from '../plan/sites.ts';
import { type LateAction, lateSources, type Parted, partActions } from './late.ts';
import type { StudyResults } from './study-results.ts';

/** A column of values: the plan, or a scenario on it. */
export interface Column extends Parted {
  readonly name: string;
  readonly scenario: CheckedScenario | undefined;
  readonly memory: Memory;
  /** Whole nodes and (as `node:row`) entries that the scenario puts in. */
  readonly overridden: ReadonlySet<string>;
  /** Nodes that it puts in wholly, and those of which it puts in anything. */
  readonly whole: ReadonlySet<number>;
  readonly touched: ReadonlySet<number>;
  readonly actions: readonly ConeAction[];
  readonly cone: ReadonlySet<number>;
}

/** Work put off: a unit of a column, what a scenario puts in late, or what it has from the plan. */
interface PutOff {
  readonly column: number;
  readonly unit: number;
  readonly late?: LateAction;
}

const TAKE_OVER = -1;
const PUT_IN = -2;

/** Put-off values of one column as worked out elsewhere: all of the plan, of a scenario what it moves. */
export interface SlowColumn {
  readonly column: number;
  readonly nodes: readonly {
    readonly node: number;
    readonly fault: Fault | undefined;
    readonly values: readonly (number | Float64Array)[];
    /** Lengths and places of the steps axes made by the node. */
    readonly axes: readonly { readonly id: number; readonly value: Memory['axes'][number] }[];
  }[];
}
export type SlowResults = readonly SlowColumn[];

export class Evaluation {
  readonly checked: Checked;
  readonly compiled: Compiled;
  readonly columns: readonly Column[];
  /** What trials told, once they were run for the present values. */
  studies: StudyResults | undefined;
  #queue: PutOff[] = [];

  constructor(checked: Checked) {
    this.checked = checked;
    this.compiled = compile(checked);
    const { machine, program } = this.compiled;
    const plan: Column = {
      name: 'Plan',
      scenario: undefined,
      memory: machine.newMemory(),
      overridden: new Set(),
      whole: new Set(),
      touched: new Set(),
      actions: [],
      cone: new Set(),
      quick: [],
      later: [],
      late: new Set(),
    };
    this.columns = [plan, ...checked.scenarios.map((scenario) => this.#column(scenario, program))];
  }

  get program(): Program {
    return this.compiled.program;
  }

  get plan(): Memory {
    return (this.columns[0] as Column).memory;
  }

  get pending(): number {
    return this.#queue.length;
  }

  #column(scenario: CheckedScenario, program: Program): Column {
    const targets = scenario.overrides.map(({ override: { node, row } }) => ({ node, row }));
    return {
      name: scenario.name,
      scenario,
      memory: this.compiled.machine.newMemory(),
      overridden: new Set(
        targets.map((t) => (t.row === undefined ? `${t.node}` : `${t.node}:${t.row}`)),
      ),
      whole: new Set(targets.flatMap((t) => (t.row === undefined ? [t.node] : []))),
      touched: new Set(targets.map((t) => t.node)),
      ...this.#reachOf(scenario, program),
    };
  }

  /** What a scenario reaches, and how it is worked. */
  #reachOf(
    scenario: CheckedScenario,
    program: Program,
  ): Pick<Column, 'actions' | 'cone' | keyof Parted> {
    const targets = scenario.overrides.map(({ override }) => ({
      node: override.node,
      row: override.row,
    }));
    const all = program.nodes.map((node) => node.id);
    const cone = coneNodes(program, targets, all, []);
    const actions = orderCone(program, cone, targets);
    return { actions, cone, ...partActions(program, scenario, actions) };
  }

  /** Whether a node has its value in a column only once what was put off is done. */
  isPutOff(column: number, id: number): boolean {
    return this.program.slow[id] === 1 || (this.columns[column]?.late.has(id) ?? false);
  }

  /** Works everything quick, in the plan and in every scenario; `slow` also what is put off. */
  run(slow: boolean): void {
    const { program, machine } = this.compiled;
    if (this.#queue.length > 0) this.#queue = [];
    machine.runAll(this.plan, slow);
    if (!slow)
      for (const unit of program.units) {
        if (!this.#isSlow(unit.nodes) || unit.nodes.some((id) => program.knots.has(id))) continue;
        for (const id of unit.nodes) this.plan.faults[id] = { kind: 'pending' };
        this.#queue.push({ column: 0, unit: unit.id });
      }
    for (let index = 1; index < this.columns.length; index++) this.#runScenario(index, slow);
  }

  /**
   * A plain given gets another number: its cone is worked again, and where its value stays the same
   * the work stops there.
   */
  moveGiven(id: number, value: number, tree: Node, notebook: Notebook): void {
    this.studies = undefined;
    const { program } = this.compiled;
    const node = program.nodes[id] as GraphNode;
    const operand = program.operands[id]?.[0];
    if (operand === undefined || operand < 0 || node.expr?.op !== 'const')
      throw new RangeError(`node ${id} is no plain given`);
    // The cell keeps its place in the program; only its literal is another one now.
    Object.assign(node, { tree, expr: { ...node.expr, values: [value] } });
    Object.assign(this.checked.scope, { notebook });
    this.put(id, value);
  }

  /**
   * Puts another number in place of a plain given and works what depends on it: in the plan, then in
   * each scenario, where what neither reaches keeps the values it has.
   */
  put(id: number, value: number): void {
    const axes = this.plan.axes.slice();
    const reached = this.compiled.machine.put(id, value, this.plan);
    if (reached.late.length === 0 && this.columns.length === 1) return;
    this.#followReached(reached, axes, () => false);
  }

  /**
   * A cell takes another formula where it stands: it alone is checked, compiled and worked, then what
   * depends on it. Nothing when that does not do; the notebook must then be evaluated anew.
   *
   * @returns the nodes of which another number of cells draws now
   */
  changeFormula(id: number, tree: Node, notebook: Notebook): readonly number[] | undefined {
    const made = recheck(this.checked, id, tree, notebook);
    if (!made) return undefined;
    const memories = this.columns.map(({ memory }) => memory);
    const patch = patchNode(this.compiled, made, memories);
    if (!patch) return undefined;
    this.studies = undefined;
    Object.assign(this.checked.scope, { notebook });
    if (patch.redrawn.length > 0)
      for (const column of this.columns)
        if (column.scenario)
          Object.assign(column, this.#reachOf(column.scenario, this.compiled.program));
    const axes = this.plan.axes.slice();
    const reached = this.compiled.machine.rework(id, this.plan);
    if (this.columns.length === 1 && reached.late.length === 0) return patch.redrawn;
    const whole = patch.redrawn.length > 0;
    this.#followReached(reached, axes, ({ cone }) => whole || cone.has(id));
    return patch.redrawn;
  }

  /** After the plan moved: what was put off, and the scenarios; some of them from the beginning. */
  #followReached(
    { moved, late }: Reached,
    axes: readonly AxisValue[],
    isWhole: (column: Column) => boolean,
  ): void {
    this.#queue = this.#queue.filter((q) => q.column === 0 && q.unit >= 0);
    for (const unit of late) {
      for (const n of unit.nodes) this.plan.faults[n] = { kind: 'pending' };
      if (!this.#queue.some((q) => q.unit === unit.id))
        this.#queue.push({ column: 0, unit: unit.id });
    }
    this.#queue.sort((a, b) => a.unit - b.unit);
    // An axis of another length or place leaves nothing as it was.
    const sameAxes = axes.every((axis, k) => axis === this.plan.axes[k]);
    this.columns.forEach((_, index) => {
      if (index === 0) return;
      const column = this.columns[index] as Column;
      const isLater = column.scenario && lateSources(this.program, column.scenario).length > 0;
      if (sameAxes && !isLater && !isWhole(column) && !this.#putsInFault(column))
        this.#followPlan(index, moved);
      else this.#runScenario(index, false);
    });
  }

  /** Whether what a scenario puts in could not be worked out, now or before. */
  #putsInFault({ scenario, memory }: Column): boolean {
    return (scenario?.overrides ?? []).some(
      ({ override, from }) =>
        this.plan.faults[from] !== undefined || memory.faults[override.node]?.kind === 'waits',
    );
  }

  #isSlow(nodes: readonly number[]): boolean {
    return nodes.some((id) => this.program.slow[id] === 1);
  }

  #runScenario(index: number, slow: boolean): void {
    const column = this.columns[index] as Column;
    column.memory.follow(this.plan);
    column.memory.instead = this.#instead(column);
    const actions = slow ? column.actions : column.quick;
    this.compiled.machine.runActions(actions, this.#replacements(column), column.memory);
    if (!slow) this.#putOff(index, () => true);
  }

  /** A scenario after the plan moved: only what a moved value reaches in it is worked again. */
  #followPlan(index: number, planMoved: ReadonlySet<number>): void {
    const column = this.columns[index] as Column;
    const { machine } = this.compiled;
    const { memory, cone } = column;
    const overrides = column.scenario?.overrides ?? [];
    const moved = new Set(planMoved);
    for (const id of cone) moved.delete(id);
    for (const { override } of overrides)
      if (override.row === undefined) moved.delete(override.node);
    // A column that only takes an entry of the scenario follows the plan, and takes the entry again.
    const own = [...cone, ...overrides.map(({ override }) => override.node)];
    this.#followExcept(
      memory,
      own.filter((id) => !moved.has(id)),
    );
    const anew = new Set(
      overrides.filter(({ from }) => planMoved.has(from)).map(({ override }) => override),
    );
    const list = this.#replacements(column);
    const isPutAnew = (r: Replacement): boolean =>
      anew.has(overrides[list.indexOf(r)]?.override as (typeof overrides)[number]['override']);
    const late = machine.followActions(column.actions, list, moved, isPutAnew, memory);
    this.#putOff(
      index,
      (action) => action.kind !== 'unit' || late.some(({ id }) => id === action.unit),
    );
  }

  /** Takes over the plan's values but for these nodes, and but for axes that are the column's own. */
  #followExcept(memory: Memory, nodes: readonly number[]): void {
    const { operands } = this.program;
    const { held, heldRows, instead } = memory;
    const faults = nodes.map((id) => memory.faults[id]);
    const values = nodes.map((id) =>
      (operands[id] ?? []).map((o) => (o >= 0 ? memory.scalars[o] : memory.rows[~o])),
    );
    const axes = memory.axes.map((axis, k) => (axis === this.plan.axes[k] ? undefined : axis));
    memory.follow(this.plan);
    nodes.forEach((id, k) => {
      memory.faults[id] = faults[k];
      (operands[id] ?? []).forEach((o, j) => {
        const value = values[k]?.[j];
        if (typeof value === 'number') memory.scalars[o] = value;
        else if (value) memory.rows[~o] = value;
      });
    });
    axes.forEach((axis, k) => {
      if (axis) memory.axes[k] = axis;
    });
    memory.held = held;
    memory.heldRows = heldRows;
    memory.instead = instead;
    memory.faulty ||= faults.some((fault) => fault !== undefined);
  }

  /** Puts off what a column has late: what is reached now, and what still waits. */
  #putOff(index: number, isReached: (action: ConeAction) => boolean): void {
    const column = this.columns[index] as Column;
    this.#queue.push({ column: index, unit: TAKE_OVER });
    let some = false;
    for (const late of column.later) {
      const { action, nodes } = late;
      const waits = nodes.some((id) => column.memory.faults[id]?.kind === 'pending');
      if (!waits && !isReached(action)) continue;
      for (const id of nodes) column.memory.faults[id] = { kind: 'pending' };
      this.#queue.push({
        column: index,
        unit: action.kind === 'unit' ? action.unit : PUT_IN,
        late,
      });
      some = true;
    }
    // Nothing to take over from the plan, and nothing of its own.
    if (!some && !this.#queue.some((q) => q.column === 0)) this.#queue.pop();
  }

  /** What a scenario puts in, for runs on top of it. */
  replacementsOf(index: number): readonly Replacement[] {
    return this.#replacements(this.columns[index] as Column);
  }

  /** The node whose value a scenario puts in place of a whole node, or of an entry. */
  sourceOf(index: number, node: number, row?: number): number | undefined {
    return this.columns[index]?.scenario?.overrides.find(
      (o) => o.override.node === node && o.override.row === row,
    )?.from;
  }

  /** How a node, or an entry of a column, is drawn in a column's trials; nothing when it is not. */
  distributionOf(index: number, node: number, row: number | undefined): Distribution | undefined {
    const { nodes } = this.program;
    const from = this.sourceOf(index, node, row);
    if (from !== undefined) return nodes[from]?.distribution;
    return row === undefined
      ? nodes[node]?.distribution
      : nodes[node]?.entryDistributions.find((entry) => entry.row === row)?.distribution;
  }

  /** The uncertain amounts that a scenario puts in. */
  #instead(column: Column): ReadonlyMap<string, DrawnInstead> {
    const found = new Map<string, DrawnInstead>();
    for (const { override, from } of column.scenario?.overrides ?? []) {
      const distribution = this.program.nodes[from]?.distribution;
      const { node, row } = override;
      if (distribution) found.set(placeKey(node, row), { node, row, distribution });
    }
    return found;
  }

  #replacements(column: Column): Replacement[] {
    const { program } = this.compiled;
    // A right side that turned out not to fit once its axis was known has no place of its own.
    const fitting = (column.scenario?.overrides ?? []).filter(
      ({ override, from }) =>
        override.value.op === 'const' || (program.operands[from] ?? []).length > 0,
    );
    return fitting.map(({ override, from }) => {
      const { value } = override;
      const operands = program.operands[from] ?? [];
      const constant = value.op === 'const' ? value.values : undefined;
      const fault = constant ? undefined : this.plan.faults[from];
      return {
        node: override.node,
        row: override.row,
        ...(fault && fault.kind !== 'pending' ? { fault: waitingFor(from, fault) } : {}),
        value: (component, place) =>
          constant
            ? (constant[component] as number)
            : this.plan.at(operands[component] as Operand, place),
      };
    });
  }

  /**
   * Works put-off units until `until` says stop; true while some is left. `columns` are those whose
   * values are wanted, all when absent; of the plan then only what they draw on is worked as well.
   */
  continue(until: () => boolean, columns?: ReadonlySet<number>): boolean {
    const { program, machine } = this.compiled;
    const isWanted = this.#wantedOf(columns);
    for (;;) {
      const at = this.#queue.findIndex(isWanted);
      if (at < 0) return false;
      const [next] = this.#queue.splice(at, 1) as [PutOff];
      const column = this.columns[next.column] as Column;
      const unit = program.units[next.unit];
      if (next.unit === TAKE_OVER) this.#takeOver(column, (id) => column.whole.has(id));
      else if (next.late) this.#workLate(next.late, column);
      else if (unit) {
        for (const id of unit.nodes) column.memory.faults[id] = undefined;
        machine.runUnit(unit, column.memory);
      }
      if (until()) return this.#queue.some(isWanted);
    }
  }

  #workLate({ action, nodes }: LateAction, column: Column): void {
    for (const id of nodes) column.memory.faults[id] = undefined;
    this.compiled.machine.runActions([action], this.#replacements(column), column.memory);
  }

  #wantedOf(columns: ReadonlySet<number> | undefined): (entry: PutOff) => boolean {
    if (columns === undefined || columns.has(0)) {
      return ({ column }) => columns === undefined || columns.has(column);
    }
    const { program } = this;
    const beneath = new Set<number>();
    for (const index of columns) {
      const { cone, late, scenario } = this.columns[index] as Column;
      const below = (ids: Iterable<number>): Iterable<number> =>
        closure(ids, (node) => program.draws[node] ?? []);
      const sources = scenario ? [...below(lateSources(program, scenario))] : [];
      for (const id of [...sources, ...[...below(late)].filter((one) => !cone.has(one))])
        if (program.slow[id] === 1) beneath.add(program.unitOf[id] ?? -1);
    }
    return ({ column, unit }) => columns.has(column) || (column === 0 && beneath.has(unit));
  }

  /** A scenario's put-off nodes that it neither moves nor has of its own are those of the plan. */
  #takeOver(column: Column, isOwn: (id: number) => boolean): void {
    const { program } = this.compiled;
    program.nodes.forEach((_, id) => {
      if (program.slow[id] !== 1 || column.cone.has(id) || isOwn(id)) return;
      this.#adopt(
        column.memory,
        id,
        this.plan.faults[id],
        (program.operands[id] ?? []).map((o) =>
          o >= 0 ? (this.plan.scalars[o] as number) : (this.plan.rows[~o] as Float64Array),
        ),
      );
    });
    for (let a = 0; a < this.plan.axes.length; a++)
      if (column.memory.axes[a]?.length === 0)
        column.memory.axes[a] = this.plan.axes[a] as Memory['axes'][number];
  }

  #adopt(
    m: Memory,
    id: number,
    fault: Fault | undefined,
    values: readonly (number | Float64Array)[],
  ): void {
    m.faults[id] = fault;
    (this.program.operands[id] ?? []).forEach((operand, j) => {
      const value = values[j];
      if (value === undefined) return;
      if (operand >= 0)
        m.scalars[operand] = typeof value === 'number' ? value : (value[0] ?? Number.NaN);
      else m.rows[~operand] = typeof value === 'number' ? new Float64Array([value]) : value;
    });
  }

  /** The put-off values of these columns, to be sent to another evaluation of the same text. */
  slowResults(columns?: ReadonlySet<number>): SlowResults {
    const { program } = this.compiled;
    return this.columns.flatMap((column, index) => {
      if (columns !== undefined && !columns.has(index)) return [];
      const nodes = program.nodes
        .filter(
          ({ id }) =>
            this.isPutOff(index, id) &&
            (!program.broken.has(id) || (index > 0 && program.knots.has(id))) &&
            (index === 0 || column.late.has(id) || column.whole.has(id)),
        )
        .map((node) => ({
          node: node.id,
          fault: column.memory.faults[node.id],
          values: (program.operands[node.id] ?? []).map((o) =>
            o >= 0
              ? (column.memory.scalars[o] as number)
              : (column.memory.rows[~o] as Float64Array).slice(),
          ),
          axes: (node.type?.axes ?? [])
            .filter((axis) => axis.kind === 'steps')
            .map((axis) => ({
              id: axis.id,
              value: column.memory.axes[axis.id] as Memory['axes'][number],
            })),
        }));
      return [{ column: index, nodes }];
    });
  }

  /** Takes over values worked out elsewhere; what those columns put off stays with the other. */
  adopt(results: SlowResults): void {
    for (const { column: index, nodes } of results) {
      const column = this.columns[index];
      if (!column) continue;
      for (const { node, fault, values, axes } of nodes) {
        this.#adopt(column.memory, node, fault, values);
        // The other session may have numbered its axes in another order.
        const own = (this.program.nodes[node]?.type?.axes ?? []).filter(
          ({ kind }) => kind === 'steps',
        );
        axes.forEach(({ value }, k) => {
          column.memory.axes[own[k]?.id ?? -1] = value;
        });
      }
    }
    const adopted = new Set(results.map(({ column }) => column));
    this.#queue = this.#queue.filter(({ column }) => !adopted.has(column));
    // What a scenario does not move it has from the plan, whichever of them came first.
    this.columns.forEach((column, index) => {
      if (index > 0) this.#takeOver(column, (id) => column.late.has(id) || column.whole.has(id));
    });
  }
}
