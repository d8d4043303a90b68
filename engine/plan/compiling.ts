// What compiling an expression needs at hand. The compiler of expressions is handed in, so that sites
// can compile their bodies without importing it in a circle.

import type { Expr } from '../check/typed.ts';
import type { Emitter } from './emitter.ts';
import type { Operand } from './memory.ts';
import type { RunContext, RunSites } from './sites.ts';

export interface Compiling {
  readonly e: Emitter;
  readonly sites: RunSites;
  /** Node at work. */
  readonly owner: number;
  /** Absent in a cell's formula itself. */
  readonly context?: RunContext | undefined;
  readonly vector: (k: Compiling, expr: Expr) => readonly Operand[];
}
