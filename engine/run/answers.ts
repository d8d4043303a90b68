// Blanks and their answers: right, or wrong by how much. The solution is handed out only when it is
// asked for, and never as part of what is shown of itself.

import { formatNumber } from '../dimension/quantity.ts';
import { findUnit, plainUnit } from '../dimension/unit.ts';
import { equal } from '../plan/kernels.ts';
import type { Operand } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import { differenceText, showValue, unitFor } from './show-value.ts';
import type { ShownAnswer, ShownSolution } from './snapshot.ts';

/** From here on a wrong answer is told as so many times the right one. */
const TELLING_RATIO = 1.5;

export function answerOf(evaluation: Evaluation, key: string): ShownAnswer | undefined {
  const { checked, program, plan } = evaluation;
  const answer = checked.answers.get(key);
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
  const times = timesWords(x, y, mine.type.stance === 'plain');
  return {
    state: 'wrong',
    text: `Off by ${amount}${share}; yours is ${times || `too ${gap > 0 ? 'large' : 'small'}`}.`,
    note,
  };
}

/** Far off, a learner sees more in a ratio: a step was left out, or a prefix. */
function timesWords(mine: number, right: number, plain: boolean): string {
  const ratio = mine / right;
  if (!plain || !Number.isFinite(ratio) || ratio === 0) return '';
  if (ratio < 0) return 'of the other sign';
  const times = ratio > 1 ? ratio : 1 / ratio;
  if (times < TELLING_RATIO) return '';
  const digits = formatNumber(times, { digits: 3 });
  return `${digits} times too ${ratio > 1 ? 'large' : 'small'}`;
}

/** The formula of a blank's answer and what it comes to with the reader's own values. */
export function solutionOf(evaluation: Evaluation, key: string): ShownSolution | undefined {
  const { checked } = evaluation;
  const answer = checked.answers.get(key);
  const item = answer ? checked.scope.notebook.items[answer.item] : undefined;
  if (!answer || item?.kind !== 'answer') return undefined;
  const value = showValue(evaluation, answer.node, 0);
  return { formula: item.formula.text.trim(), text: value.state === 'value' ? value.text : '' };
}
