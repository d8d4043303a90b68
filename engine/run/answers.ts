// Blanks and their answers: right, or wrong by how much; never the solution.

import { formatNumber } from '../dimension/quantity.ts';
import { findUnit, plainUnit } from '../dimension/unit.ts';
import { equal } from '../plan/kernels.ts';
import type { Operand } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import { differenceText, unitFor } from './show-value.ts';
import type { ShownAnswer } from './snapshot.ts';

export function answerOf(evaluation: Evaluation, key: string): ShownAnswer | undefined {
  const { checked, program, plan } = evaluation;
  const answer = checked.answers.find((a) => a.key === key);
  const cell = checked.scope.cells.get(key);
  if (!answer || cell === undefined) return undefined;
  const item = checked.scope.notebook.items[answer.item];
  const note = item?.kind === 'answer' ? (item.note?.text ?? '') : '';
  const mine = program.nodes[cell];
  const right = program.nodes[answer.node];
  if (plan.faults[cell]?.kind === 'blank') return { state: 'empty', text: '', note };
  if (
    !mine?.type ||
    !right?.type ||
    plan.faults[cell] ||
    plan.faults[answer.node] ||
    mine.type.kind !== right.type.kind
  )
    return {
      state: 'cannot tell',
      text: 'The answer cannot be judged yet: something it needs is missing.',
      note,
    };
  const at = (id: number): number => plan.at(program.operands[id]?.[0] as Operand, 0);
  const [x, y] = [at(cell), at(answer.node)];
  const spread = answer.spread < 0 || plan.faults[answer.spread] ? 0 : at(answer.spread);
  let gap = x - y;
  if (mine.type.kind === 'time of day') gap = ((gap + 129_600) % 86_400) - 43_200;
  const fits =
    mine.type.kind === 'text' || mine.type.kind === 'truth'
      ? x === y
      : equal(x, y) || Math.abs(gap) <= spread * (1 + 1e-9);
  if (fits) return { state: 'right', text: 'Right.', note };
  if (mine.type.kind === 'text' || mine.type.kind === 'truth')
    return { state: 'wrong', text: 'Not so.', note };
  if (mine.type.kind === 'time of day')
    return {
      state: 'wrong',
      text: `Off by ${formatNumber(Math.abs(gap) / 60)}\u00a0min; yours is too ${gap > 0 ? 'late' : 'early'}.`,
      note,
    };
  if (
    mine.type.kind !== 'quantity' ||
    right.type.kind !== 'quantity' ||
    mine.type.dimension !== right.type.dimension
  )
    return {
      state: 'wrong',
      text: `That is ${mine.type.kind === 'quantity' ? 'another kind of amount' : 'no amount'}.`,
      note,
    };
  const unit =
    mine.type.stance === 'moment'
      ? (findUnit('h') ?? plainUnit)
      : unitFor(evaluation, mine.type, cell);
  const share =
    Math.abs(y) > 0 && mine.type.stance === 'plain' && unit.symbol !== '%'
      ? ` (${formatNumber((100 * Math.abs(gap)) / Math.abs(y), { digits: 2 })}\u00a0%)`
      : '';
  const amount = differenceText(Math.abs(gap), unit);
  return {
    state: 'wrong',
    text: `Off by ${amount}${share}; yours is too ${gap > 0 ? 'large' : 'small'}.`,
    note,
  };
}
