// The snapshot: every item of the notebook as a row with its values in all columns.

import { describeType } from '../check/describe.ts';
import { literalAmount, lowEnd, stepOf } from '../check/literal-amount.ts';
import type { GraphNode } from '../check/scope.ts';
import { civilFromDays, dayOfMoment } from '../dimension/calendar.ts';
import { formatNumber } from '../dimension/quantity.ts';
import { fromStored, isPointUnit, plainUnit } from '../dimension/unit.ts';
import { nameKey } from '../language/parser.ts';
import { printFormula } from '../language/printer.ts';
import type { CellItem, Item, Place, TableItem } from '../notebook/notebook.ts';
import { FORMAT_VERSION } from '../notebook/read-header.ts';
import { answerOf } from './answers.ts';
import type { Evaluation } from './evaluation.ts';
import { formulaParts } from './formula-parts.ts';
import { messagesOf } from './messages.ts';
import { figureOf, joined, placesOf, reader, rootName, showValues, unitFor } from './show-value.ts';
import type { ShownBefore } from './shown-before.ts';
import type {
  CellRow,
  Message,
  Row,
  ShownBounds,
  ShownEntry,
  Snapshot,
  TableRowShown,
} from './snapshot.ts';
import { type CheckResult, checkResult, verdictOf } from './verdict.ts';

/**
 * @param text   the whole text, asked for only when a message stands before the first line
 * @param before rows of the last snapshot of this session; those that show the same are taken over
 */
export function buildSnapshot(
  evaluation: Evaluation,
  text: () => string,
  before: ShownBefore,
): Snapshot {
  before.begin(evaluation);
  const { checked } = evaluation;
  const { notebook } = checked.scope;
  const messages = messagesOf(evaluation, text);
  const columns = evaluation.columns.map((_, index) => index);
  const results: CheckResult[][] = columns.map((index) =>
    checked.checks.map((check) => checkResult(evaluation, check, index)),
  );
  const proseOf = (index: number): string => {
    const item = notebook.items[checked.scenarios[index - 1]?.item ?? -1];
    return item?.kind === 'scenario' ? item.prose.map((p) => p.text).join(' ') : '';
  };
  const { header } = notebook;
  return {
    title: header.title ?? '',
    place: header.place ? placeText(header.place) : '',
    dates: datesText(evaluation, before),
    trials: header.trials,
    verdicts: columns.map((index) =>
      verdictOf(
        evaluation,
        results[index] as CheckResult[],
        index,
        index === 0 ? '' : proseOf(index),
      ),
    ),
    rows: rowsOf(evaluation, results, messages, before),
    messages,
    readOnly:
      header.version > FORMAT_VERSION
        ? `This notebook was written by a newer version (format ${header.version}). It can be read here, not changed.`
        : '',
    pending: evaluation.pending,
  };
}

/** The lines of prose from an item on, up to the first that is none. */
function proseFrom(items: readonly Item[], first: number): readonly string[] {
  const lines: string[] = [];
  for (let item = items[first]; item?.kind === 'prose'; item = items[first + lines.length]) {
    lines.push(item.text.text);
  }
  return lines;
}

function rowsOf(
  evaluation: Evaluation,
  results: readonly (readonly CheckResult[])[],
  messages: readonly Message[],
  before: ShownBefore,
): Row[] {
  const { checked } = evaluation;
  const { scope } = checked;
  /** A row made of these nodes' values, or the one of before. */
  const taken = (index: number, item: Item, nodes: readonly number[], make: () => Row): Row =>
    nodes.length === 0
      ? make()
      : before.row(evaluation, index, item, nodes, byItem.has(index), make);
  const rows: Row[] = [];
  const byItem = new Map<number, Message[]>();
  for (const message of messages) {
    const list = byItem.get(message.item) ?? [];
    list.push(message);
    byItem.set(message.item, list);
  }
  const places = placesByItem(checked);
  scope.notebook.items.forEach((item, index) => {
    const isCell = item.kind === 'cell' && !byItem.has(index);
    const same = isCell ? before.still(evaluation, index, item) : undefined;
    if (same) {
      rows.push(same);
      return;
    }
    const base = { item: index, line: item.line, messages: byItem.get(index) ?? [] };
    switch (item.kind) {
      case 'blank':
      case 'answer':
        return;
      case 'heading':
      case 'safety':
      case 'remark':
        rows.push({ ...base, kind: item.kind, text: item.text.text });
        return;
      case 'prose': {
        // Lines of prose that follow one another are one row, made at the first of them.
        if (scope.notebook.items[index - 1]?.kind === 'prose') return;
        const paragraph = proseFrom(scope.notebook.items, index);
        const items = paragraph.map((_, line) => index + line);
        rows.push({ ...base, kind: 'prose', text: paragraph.join(' '), items });
        return;
      }
      case 'cell':
        rows.push(
          taken(index, item, cellNodes(evaluation, item, index), () =>
            cellRow(evaluation, item, index, base),
          ),
        );
        return;
      case 'table':
        rows.push(
          taken(
            index,
            item,
            tableNodes(evaluation, item, index).map(({ id }) => id),
            () => tableRow(evaluation, item, index, base),
          ),
        );
        return;
      case 'check': {
        const at = places.checks.get(index) ?? -1;
        const node = evaluation.program.nodes[checked.checks[at]?.node ?? -1];
        rows.push({
          ...base,
          kind: 'check',
          must: item.must,
          formula: item.formula.text,
          get parts() {
            return formulaParts(scope, item.formula.text);
          },
          note: item.note?.text ?? '',
          values: results.map((column) => (column[at] as CheckResult).shown),
          drawsOn: node ? namesOf(evaluation, node.draws) : [],
        });
        return;
      }
      case 'chart': {
        const chart = checked.charts[places.charts.get(index) ?? -1];
        const draws = new Set<number>();
        for (const { node } of chart?.items ?? [])
          for (const id of evaluation.program.draws[node] ?? []) draws.add(id);
        rows.push({
          ...base,
          kind: 'chart',
          title: item.body.text.trim(),
          note: item.note?.text ?? '',
          drawsOn: namesOf(evaluation, draws),
        });
        return;
      }
      case 'scenario':
        rows.push({
          ...base,
          kind: 'scenario',
          name: item.name.text,
          prose: item.prose.map((p) => p.text).join(' '),
          column: 1 + (places.scenarios.get(index) ?? -1),
          overrides: item.overrides.map((o) => ({
            target: o.target.text,
            value: o.value.text,
            note: o.note?.text ?? '',
          })),
        });
        return;
      case 'unread':
        rows.push({ ...base, kind: 'unread', text: item.source.replace(/\r?\n$/u, '') });
    }
  });
  return rows;
}

type Places = Readonly<Record<'checks' | 'charts' | 'scenarios', ReadonlyMap<number, number>>>;

/** Places of checks, charts and scenarios in their lists, by the items they stand in. */
function placesByItem({ checks, charts, scenarios }: Evaluation['checked']): Places {
  const byItem = (list: readonly { readonly item: number }[]): ReadonlyMap<number, number> =>
    new Map(list.map(({ item }, at) => [item, at]));
  return { checks: byItem(checks), charts: byItem(charts), scenarios: byItem(scenarios) };
}

function namesOf(evaluation: Evaluation, ids: Iterable<number>): string[] {
  const keys: string[] = [];
  for (const id of ids) {
    const node = evaluation.program.nodes[id];
    if (node && (node.kind === 'cell' || node.kind === 'column') && !keys.includes(node.key))
      keys.push(node.key);
  }
  // A list that grew has room for more; a copy has not.
  return keys.slice();
}

/** The nodes a cell's row shows: its own; none when its row depends on more than their values. */
function cellNodes(evaluation: Evaluation, item: CellItem, index: number): readonly number[] {
  const { checked, program } = evaluation;
  const key = nameKey(item.name.text);
  const id = checked.scope.cells.get(key);
  if (id === undefined || program.nodes[id]?.item !== index) return [];
  return checked.scope.answers.has(key) ? [] : [id];
}

/** The columns of a table: those in the file, then the cells along its rows. */
function tableNodes(evaluation: Evaluation, item: TableItem, index: number): readonly GraphNode[] {
  const { nodes } = evaluation.program;
  const table = evaluation.checked.scope.tables.get(nameKey(item.name.text));
  if (!table || table.item !== index) return [];
  const added = nodes.filter(
    (node) =>
      node.kind === 'cell' &&
      node.type?.axes.length === 1 &&
      node.type.axes[0] === table.rows &&
      node.type.kind !== 'record',
  );
  return [...table.columns.map((id) => nodes[id] as GraphNode), ...added];
}

type Base = Pick<Row, 'item' | 'line' | 'messages'>;

function cellRow(evaluation: Evaluation, item: CellItem, index: number, base: Base): CellRow {
  const { scope } = evaluation.checked;
  const key = nameKey(item.name.text);
  // A name that is taken already leads to the other cell.
  const named = evaluation.program.nodes[scope.cells.get(key) ?? -1];
  const node = named?.item === index ? named : undefined;
  const formula = item.formula.text;
  if (!node) {
    const values = evaluation.columns.map(() => ({
      state: 'error' as const,
      shown: { figure: '', unit: '' },
      text: base.messages[0]?.text ?? '',
      number: Number.NaN,
      overridden: false,
      changed: false,
    }));
    return {
      ...base,
      kind: 'cell',
      key: `${key}\u0000${index}`,
      name: item.name.text,
      role: 'derived',
      formula,
      parts: formulaParts(scope, formula),
      note: item.note?.text ?? '',
      description: '',
      values,
      drawsOn: [],
      drawnOnBy: [],
      shape: 'scalar',
    };
  }
  const bounds = boundsOf(evaluation, node, item);
  const answer = answerOf(evaluation, key);
  const { type } = node;
  // Written out: an object that begins with another's fields gets a layout of its own to keep.
  const row: CellRow = {
    item: base.item,
    line: base.line,
    messages: base.messages,
    kind: 'cell',
    key,
    name: item.name.text,
    role: node.role,
    formula,
    // Cut when it is asked for: of a long notebook only the rows near the window are drawn.
    get parts() {
      return formulaParts(scope, formula);
    },
    note: item.note?.text ?? '',
    description: type ? describeType(type) : '',
    values: showValues(evaluation, node.id),
    drawsOn: namesOf(evaluation, node.draws),
    drawnOnBy: namesOf(evaluation, evaluation.program.drawnOnBy[node.id] ?? []),
    shape: !type
      ? 'scalar'
      : type.kind === 'record'
        ? 'record'
        : type.axes.length > 0
          ? 'series'
          : 'scalar',
  };
  if (bounds) Object.assign(row, { bounds });
  if (answer) Object.assign(row, { answer });
  return row;
}

function boundsOf(
  evaluation: Evaluation,
  node: GraphNode,
  item: CellItem,
): ShownBounds | undefined {
  const { bounds, type } = node;
  const text = item.bounds?.text ?? '';
  if (!bounds || !type) return undefined;
  const context = { isPointUnit };
  if (bounds.kind === 'choices')
    return {
      kind: 'choices',
      low: Number.NaN,
      high: Number.NaN,
      step: 0,
      defaultStep: 0,
      unit: '',
      choices: bounds.choices.map((c) => printFormula(c, context)),
      text,
    };
  if (type.kind !== 'quantity') return undefined;
  const unit = unitFor(evaluation, type, node.id);
  const high = literalAmount(bounds.high);
  const low = literalAmount(lowEnd(bounds));
  if (low === undefined || high === undefined) return undefined;
  const difference = { ...unit, zero: 0, isPoint: false };
  const stepNode = stepOf(bounds);
  const stepAmount = stepNode ? literalAmount(stepNode, true) : undefined;
  const step = stepAmount === undefined ? 0 : fromStored(stepAmount, difference);
  const [a, b] = [fromStored(low, unit), fromStored(high, unit)];
  return {
    kind: 'range',
    low: a,
    high: b,
    step,
    defaultStep: step > 0 ? step : niceStep(a, b),
    unit: unit.symbol,
    choices: [],
    text,
  };
}

/** About a hundred steps of 1, 2 or 5 times a power of ten. */
function niceStep(low: number, high: number): number {
  const raw = Math.abs(high - low) / 100;
  if (!(raw > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(raw));
  const lead = raw / power;
  return (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10) * power;
}

function tableRow(
  evaluation: Evaluation,
  item: TableItem,
  index: number,
  base: Base,
): TableRowShown {
  const { scope } = evaluation.checked;
  const key = nameKey(item.name.text);
  const table = scope.tables.get(key);
  const own = table && table.item === index ? table : undefined;
  const nodes = tableNodes(evaluation, item, index);
  const columnNodes = nodes.slice(0, own?.columns.length ?? 0);
  const unitText = (n: GraphNode): string =>
    n.type?.kind === 'quantity' && n.type.stance !== 'moment'
      ? unitFor(evaluation, n.type, n.id).symbol
      : '';
  const columns = nodes.map((n, c) => ({
    key: n.key,
    name: c < columnNodes.length ? n.name.slice(item.name.text.length + 1) : n.name,
    formula: c < columnNodes.length ? (item.columns[n.column]?.formula?.text ?? '') : '',
    given: c < columnNodes.length && item.columns[n.column]?.formula === undefined,
    added: c >= columnNodes.length,
    unit: unitText(n),
    numeric: n.type?.kind === 'quantity' && n.type.stance !== 'moment',
  }));
  const entry = (n: GraphNode, row: number, column: number): ShownEntry => {
    const { memory } = evaluation.columns[column] as Evaluation['columns'][number];
    const written =
      own && n.table === own ? (item.rows[row]?.entries[n.column]?.text.trim() ?? '') : '';
    const overridden = evaluation.columns[column]?.overridden.has(`${n.id}:${row}`) ?? false;
    const fault = memory.faults[n.id];
    if (fault || !n.type) {
      const text =
        fault?.kind === 'error'
          ? fault.text
          : fault?.kind === 'waits'
            ? `waits for ${rootName(evaluation, fault.on, memory)}`
            : '';
      return {
        text,
        written,
        state: fault?.kind === 'error' ? 'error' : fault?.kind === 'pending' ? 'pending' : 'waits',
        overridden,
      };
    }
    const unit = n.type.kind === 'quantity' ? unitFor(evaluation, n.type, n.id) : plainUnit;
    const isAbsent =
      placesOf(evaluation, n.id, memory) <= row ||
      Number.isNaN(reader(evaluation, n.id, memory)(0, row));
    if (isAbsent) return { text: '', written, state: 'value', overridden };
    const shown = figureOf(evaluation, n.type, reader(evaluation, n.id, memory), row, unit);
    const plainText =
      n.table && written !== '' && !written.startsWith('=') && !overridden && column === 0
        ? written
        : joined(shown);
    return { text: plainText, written, state: 'value', overridden };
  };
  const entries = item.rows.map((_, row) => nodes.map((n) => entry(n, row, 0)));
  const overrides = evaluation.columns.flatMap((column, scenario) =>
    scenario === 0
      ? []
      : item.rows.flatMap((_, row) =>
          nodes.flatMap((n, c) => {
            if (column.memory.faults[n.id] || evaluation.plan.faults[n.id]) return [];
            const shown = entry(n, row, scenario);
            const plan = entry(n, row, 0);
            const differs = !Object.is(
              value(evaluation, n, row, scenario),
              value(evaluation, n, row, 0),
            );
            return differs || (shown.overridden && shown.text !== plan.text)
              ? [{ scenario, row, column: c, text: shown.text }]
              : [];
          }),
        ),
  );
  const draws = new Set<number>();
  const by = new Set<number>();
  for (const n of columnNodes) {
    for (const id of n.draws) if (!own?.columns.includes(id)) draws.add(id);
    for (const id of evaluation.program.drawnOnBy[n.id] ?? [])
      if (!own?.columns.includes(id)) by.add(id);
  }
  return {
    ...base,
    kind: 'table',
    key,
    name: item.name.text,
    note: item.note?.text ?? '',
    columns,
    entries,
    overrides,
    drawsOn: namesOf(evaluation, draws),
    drawnOnBy: namesOf(evaluation, by),
  };
}

function value(evaluation: Evaluation, n: GraphNode, row: number, column: number): number {
  const { memory } = evaluation.columns[column] as Evaluation['columns'][number];
  return placesOf(evaluation, n.id, memory) > row
    ? reader(evaluation, n.id, memory)(0, row)
    : Number.NaN;
}

function placeText(place: Place): string {
  const degrees = (rad: number, plus: string, less: string): string => {
    const d = (rad * 180) / Math.PI;
    return `${formatNumber(Math.abs(d), { digits: 5 })}\u00a0°${d < 0 ? less : plus}`;
  };
  return `${degrees(place.latitude, 'N', 'S')}, ${degrees(place.longitude, 'E', 'W')}, ${formatNumber(place.altitude)}\u00a0m`;
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** Days of the first timeline: `14–20 May 2027`. */
function datesText(evaluation: Evaluation, before: ShownBefore): string {
  const clock = before.clockOf(evaluation);
  const axis = clock?.type?.kind === 'quantity' ? clock.type.timeline : undefined;
  const t = axis ? evaluation.plan.axes[axis.id] : undefined;
  if (!clock || !t || t.length === 0 || evaluation.plan.faults[clock.id]) return '';
  const a = civilFromDays(dayOfMoment(t.start));
  const b = civilFromDays(dayOfMoment(t.end - 1));
  const [ma, mb] = [MONTHS[a.month - 1], MONTHS[b.month - 1]];
  if (a.year !== b.year) return `${a.day} ${ma} ${a.year} – ${b.day} ${mb} ${b.year}`;
  if (a.month !== b.month) return `${a.day} ${ma} – ${b.day} ${mb} ${b.year}`;
  return a.day === b.day ? `${a.day} ${ma} ${a.year}` : `${a.day}–${b.day} ${mb} ${b.year}`;
}
