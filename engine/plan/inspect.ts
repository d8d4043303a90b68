// Looks at what a unit gave: a number that is none, or is infinite, is a fault with its reason.

import type { GraphNode } from '../check/scope.ts';
import type { Code } from '../source/catalogue.ts';
import { anyCulprit, type Culprit, culpritOf, explained } from './explain.ts';
import { firstUnfit } from './kernels.ts';
import { type Fault, type Memory, type Operand, waitingFor } from './memory.ts';
import type { CodeRange, Program, Unit } from './program.ts';
import type { RunSites } from './sites.ts';

export class Inspector {
  readonly #program: Program;
  readonly #sites: RunSites;
  readonly #execute: (range: CodeRange, m: Memory) => void;

  constructor(program: Program, sites: RunSites, execute: (range: CodeRange, m: Memory) => void) {
    this.#program = program;
    this.#sites = sites;
    this.#execute = execute;
  }

  /** Gives the nodes of a unit their faults, or none; whether there is none. */
  inspect(unit: Unit, m: Memory, held: ReadonlySet<number>): boolean {
    if (unit.loop) return this.#inspectLoop(unit, m, held);
    let fine = true;
    for (const id of unit.nodes) {
      if (held.has(id)) continue;
      const fault = this.#inspectNode(unit, id, m);
      m.faults[id] = fault;
      if (fault) fine = false;
    }
    return fine;
  }

  /** Of a circle only the member that goes wrong first has a message; the others wait for it. */
  #inspectLoop(unit: Unit, m: Memory, held: ReadonlySet<number>): boolean {
    let first = { at: Number.POSITIVE_INFINITY, id: -1, operand: 0 };
    const wrong: number[] = [];
    for (const id of unit.nodes) {
      if (held.has(id)) continue;
      m.faults[id] = undefined;
      const places = (this.#program.operands[id] as readonly Operand[])
        .map((operand) => ({ at: firstUnfit(m, operand, this.#isOptional(id)), operand }))
        .filter(({ at }) => at >= 0);
      if (places.length === 0 && m.problem === '') continue;
      wrong.push(id);
      for (const { at, operand } of places) if (at < first.at) first = { at, id, operand };
    }
    if (wrong.length === 0) return true;
    // What went wrong without a number that shows it stands at the last one worked.
    const root = first.id < 0 ? (wrong[wrong.length - 1] as number) : first.id;
    const why =
      said(m) ??
      this.#unfit(unit, this.#program.nodes[root] as GraphNode, first.operand, first.at, m);
    for (const id of wrong) m.faults[id] = waitingFor(root, why);
    m.faults[root] = why;
    return false;
  }

  #isOptional(id: number): boolean {
    return this.#program.nodes[id]?.type?.optional ?? false;
  }

  #inspectNode(unit: Unit, id: number, m: Memory): Fault | undefined {
    const p = this.#program;
    const node = p.nodes[id];
    const type = node?.type;
    if (!node || !type) throw new RangeError(`node ${id} has no type`);
    if (node.expr?.op === 'blank') return { kind: 'blank' };
    const told = said(m);
    if (told && (!type.optional || type.kind === 'window')) return told;
    if (type.kind === 'window') return undefined;
    for (const operand of p.operands[id] as readonly Operand[]) {
      const at = firstUnfit(m, operand, type.optional);
      if (at >= 0) return told ?? this.#unfit(unit, node, operand, at, m);
      if (!type.optional || told) continue;
      // An absent entry is no number either; one that was made of numbers is a fault all the same.
      const made = this.#madeNone(unit, node, operand, m);
      if (made) return made;
    }
    return told;
  }

  /** Instructions of a unit with one operation each, worked, so that all on the way is there to be seen. */
  #apart({ code, apart }: Unit, m: Memory): CodeRange {
    if (!apart) return code;
    m.index = 0;
    this.#execute(apart, m);
    return apart;
  }

  /** The first place of an optional value that is no number although it was made of numbers. */
  #madeNone(unit: Unit, node: GraphNode, operand: Operand, m: Memory): Fault | undefined {
    const places = operand >= 0 ? 1 : m.array(operand).length;
    for (let i = 0; i < places; i++) {
      if (!Number.isNaN(m.at(operand, i))) continue;
      const culprit = culpritOf(this.#program, unit.code, m, operand, i);
      if (culprit) return { kind: 'error', ...explained(this.#program, node, i, culprit) };
    }
    return undefined;
  }

  #unfit(unit: Unit, node: GraphNode, operand: Operand, at: number, m: Memory): Fault {
    const program = this.#program;
    let culprit: Culprit | undefined;
    if (unit.loop) {
      // The instructions of the place at which it went wrong, worked once more.
      m.index = at;
      for (const member of unit.loop.members) this.#execute(member.code, m);
      m.index = 0;
      const own = unit.loop.members.find((member) => member.node === node.id);
      const k = own?.rows.indexOf(operand) ?? -1;
      if (own && k >= 0) culprit = culpritOf(program, own.code, m, own.now[k] as Operand, 0);
    } else {
      const range = this.#apart(unit, m);
      culprit =
        culpritOf(program, range, m, operand, at) ??
        anyCulprit(program, range, m) ??
        this.#withinSites(node.id, m);
    }
    return { kind: 'error', ...explained(program, node, at, culprit) };
  }

  /** What went wrong in a part of the formula that was run again. */
  #withinSites(id: number, { child }: Memory): Culprit | undefined {
    if (!child || !this.#sites.owners.has(id)) return undefined;
    // Only the run that was worked last still stands there.
    const last = this.#sites.sites.findLast(({ owner }) => owner === id);
    const found = last && anyCulprit(this.#program, last.body, child);
    return found && { ...found, count: -1 };
  }
}

/** What a step said, as a fault. */
function said(m: Memory): Fault | undefined {
  if (m.problem === '') return undefined;
  return m.root >= 0
    ? { kind: 'waits', on: m.root }
    : { kind: 'error', text: m.problem, code: m.code };
}

/** Cells that wait for each other in one line. */
const MOST_WAITING = 100_000;

/** The message at the root of a fault, and the node that has it. */
export function rootOf(
  program: Program,
  m: Memory,
  id: number,
): { readonly code: Code; readonly text: string; readonly root: number } {
  const code = 'no-number';
  let root = id;
  for (let depth = 0; depth < MOST_WAITING; depth++) {
    const fault = m.faults[root];
    const name = program.nodes[root]?.name ?? '';
    if (fault?.kind === 'waits') root = fault.on;
    else if (fault?.kind === 'error') return { code: fault.code, text: fault.text, root };
    else if (fault?.kind === 'blank')
      return { code, text: `"${name}" is still to be filled in.`, root };
    else if (fault?.kind === 'pending')
      return { code, text: `"${name}" is still being worked out.`, root };
    else break;
  }
  return { code, text: `"${program.nodes[id]?.name ?? ''}" cannot be worked out.`, root: -1 };
}
