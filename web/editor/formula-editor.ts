// The one formula editor of the page, moved to the place in use. It lives in a shadow root, so that
// its styles need no style element in the page. Colours come from the session's own tokens, marks
// and fixes from its messages; nothing about the language is known here.

import {
  acceptCompletion,
  autocompletion,
  type CompletionContext,
  type CompletionResult,
  closeCompletion,
  completionKeymap,
  completionStatus,
  moveCompletionSelection,
  startCompletion,
} from '@codemirror/autocomplete';
import {
  history,
  historyKeymap,
  insertNewline,
  isolateHistory,
  standardKeymap,
} from '@codemirror/commands';
import {
  EditorSelection,
  EditorState,
  type Extension,
  Prec,
  type Range,
  StateEffect,
  StateField,
} from '@codemirror/state';
import {
  Decoration,
  type DecorationSet,
  EditorView,
  keymap,
  placeholder,
  tooltips,
} from '@codemirror/view';
import type { Completion, Preview } from '../../engine/index.ts';

export interface EditorTask {
  readonly text: string;
  readonly caret: 'all' | 'end';
  readonly label: string;
  readonly placeholder: string;
  /** Whole lines may be several; a formula is one. */
  readonly manyLines: boolean;
  readonly preview: (text: string) => Preview | undefined;
  readonly completions: (text: string, position: number) => readonly Completion[];
  readonly keep: (text: string) => boolean;
  readonly drop: () => void;
  /** The caret moved, or the text changed under it. */
  readonly caretAt: (text: string, position: number) => void;
  readonly tidy: (text: string) => string;
  readonly previewed: (preview: Preview | undefined) => void;
}

const setMarks = StateEffect.define<DecorationSet>();
const marks = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(value, transaction) {
    let next = value.map(transaction.changes);
    for (const effect of transaction.effects) if (effect.is(setMarks)) next = effect.value;
    return next;
  },
  provide: (field) => EditorView.decorations.from(field),
});

const KIND_CLASS: Readonly<Record<string, string>> = {
  cell: 'ref',
  name: 'plainname',
  function: 'fn',
  number: 'num',
  unit: 'num',
  text: 'num',
  moment: 'num',
  operator: 'op',
  word: 'kw',
  bad: 'bad',
};

function decorationsFor(preview: Preview | undefined, length: number): DecorationSet {
  if (!preview) return Decoration.none;
  const ranges: Range<Decoration>[] = [];
  const add = (start: number, end: number, name: string): void => {
    const from = Math.max(0, Math.min(start, length));
    const to = Math.max(0, Math.min(end, length));
    if (to > from) ranges.push(Decoration.mark({ class: name }).range(from, to));
  };
  for (const token of preview.tokens) {
    const name = KIND_CLASS[token.kind];
    if (name) add(token.span.start, token.span.end, name);
  }
  for (const message of preview.messages) {
    const { start, end } = message.span;
    add(end > start ? start : Math.max(0, start - 1), end, 'wave');
  }
  return Decoration.set(ranges, true);
}

const theme = EditorView.theme({
  '&': {
    background: 'var(--over)',
    color: 'var(--ink)',
    border: '2px solid var(--hand)',
    borderRadius: '6px',
    font: '400 1.0625rem/1.35 var(--text)',
  },
  '&.cm-focused': { outline: 'none' },
  '.cm-content': { padding: '4px 4px 7px', caretColor: 'var(--ink)', font: 'inherit' },
  '.cm-line': { padding: '0 5px' },
  '.cm-scroller': { font: 'inherit', overflow: 'auto' },
  '.cm-cursor': { borderLeft: '2px solid var(--ink)' },
  '.cm-placeholder': { color: 'var(--ink2)' },
  '.ref': { borderBottom: '1px dotted var(--edge)' },
  '.fn': { fontWeight: '600' },
  '.kw': { color: 'var(--ink2)', fontWeight: '600' },
  '.op': { color: 'var(--ink2)' },
  '.num': { color: 'var(--hand)' },
  '.wave, .bad': {
    textDecoration: 'underline wavy var(--fails) 2px',
    textUnderlineOffset: '5px',
    textDecorationSkipInk: 'none',
  },
  '.cm-tooltip': {
    background: 'var(--over)',
    border: '1.5px solid var(--edge)',
    borderRadius: '10px',
    padding: '5px',
    zIndex: '40',
  },
  // Under the field and as wide as it, so that the message beside it stays in sight.
  '.cm-tooltip.cm-tooltip-autocomplete': {
    left: '-2px !important',
    marginTop: '9px',
    minWidth: 'max(calc(100% + 4px), 18rem)',
    maxWidth: '94vw',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul': {
    font: '400 .9375rem/1.35 var(--text)',
    maxHeight: '17rem',
    minWidth: '0',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li': {
    display: 'grid',
    gridTemplateColumns: 'minmax(0, 1fr) auto',
    gap: '0 12px',
    padding: '5px 9px',
    borderRadius: '6px',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]': {
    background: 'var(--hand)',
    color: 'var(--on-hand)',
  },
  '.cm-completionMatchedText': { fontWeight: '700', textDecorationThickness: '2px' },
  '.cm-completionDetail': { fontStyle: 'normal', margin: '0', textAlign: 'right' },
  '.meaning': { gridColumn: '1 / -1', fontSize: '.8125rem', whiteSpace: 'normal' },
});

export class FormulaEditor extends HTMLElement {
  readonly #view: EditorView;
  #task: EditorTask | undefined;
  #preview: Preview | undefined;

  constructor() {
    super();
    const root = this.attachShadow({ mode: 'open' });
    const state = EditorState.create({ extensions: this.#extensions('', '', false) });
    this.#view = new EditorView({ state, parent: root, root });
  }

  #extensions(label: string, hint: string, manyLines: boolean): readonly Extension[] {
    return [
      history(),
      marks,
      theme,
      EditorView.lineWrapping,
      EditorView.contentAttributes.of({
        'aria-label': label,
        spellcheck: 'false',
        autocapitalize: 'off',
        enterkeyhint: 'done',
      }),
      placeholder(hint),
      tooltips({ position: 'absolute' }),
      EditorState.transactionFilter.of((transaction) =>
        !manyLines && transaction.newDoc.lines > 1 ? [] : transaction,
      ),
      // Typed over a selection, the browser would carry its look along as an inline style, which the
      // page's policy forbids. So the replacement is made here.
      EditorView.domEventHandlers({
        beforeinput: (event, view) => {
          const { data, inputType } = event;
          if (inputType !== 'insertText' || data === null || view.composing) return false;
          if (view.state.selection.main.empty) return false;
          event.preventDefault();
          const typed = view.state.replaceSelection(data);
          view.dispatch(
            view.state.update(typed, { userEvent: 'input.type', scrollIntoView: true }),
          );
          return true;
        },
      }),
      EditorView.updateListener.of((change) => {
        if (change.docChanged) this.#refresh();
        if (change.docChanged || change.selectionSet) this.#tellCaret();
      }),
      autocompletion({
        override: [(context) => this.#complete(context)],
        icons: false,
        // Nothing is chosen until the reader chooses: Enter keeps what was typed, Tab takes the first.
        selectOnOpen: false,
        defaultKeymap: false,
        addToOptions: [
          {
            position: 90,
            render: (completion): Node => {
              const words = document.createElement('span');
              words.className = 'meaning';
              words.textContent = this.#meanings.get(completion.label) ?? '';
              return words;
            },
          },
        ],
      }),
      Prec.highest(keymap.of(completionKeymap)),
      Prec.high(
        keymap.of([
          { key: 'Enter', run: () => this.#keep() },
          { key: 'Shift-Enter', run: manyLines ? insertNewline : (): boolean => true },
          { key: 'Escape', run: () => this.#drop() },
          { key: 'Mod-.', run: () => this.fix(0) },
          { key: 'Mod-Shift-f', run: () => this.tidy() },
          { key: 'Tab', run: () => this.#takeFirst() || this.#keep() },
        ]),
      ),
      // The keys of any field of text; those for moving about a program have nothing to hold on to.
      keymap.of([...historyKeymap, ...standardKeymap.filter(({ key }) => key !== 'Enter')]),
    ];
  }

  readonly #meanings = new Map<string, string>();

  #complete(context: CompletionContext): CompletionResult | null {
    const task = this.#task;
    if (!task) return null;
    const before = context.state.sliceDoc(0, context.pos);
    const word = context.explicit || /\p{L}[\p{L}\d'’_-]*$/u.test(before);
    // After a number and a space units are offered unasked only where the place says which.
    if (!word && !/\d $/.test(before)) return null;
    const found = task
      .completions(context.state.doc.toString(), context.pos)
      .filter(({ wanted }) => word || wanted);
    const first = found[0];
    if (!first) return null;
    this.#meanings.clear();
    const from = Math.min(...found.map((entry) => entry.from));
    return {
      from,
      filter: false,
      options: found.slice(0, 40).map((entry) => {
        this.#meanings.set(entry.label, entry.meaning);
        return {
          label: entry.label,
          detail: entry.detail,
          type: entry.kind,
          apply: (view: EditorView, _: unknown, __: number, to: number): void => {
            view.dispatch({
              changes: { from: entry.from, to, insert: entry.insert },
              selection: EditorSelection.cursor(entry.from + entry.insert.length),
              userEvent: 'input.complete',
            });
          },
        };
      }),
    };
  }

  /** Puts the editor to work on another place. */
  open(task: EditorTask): void {
    this.#task = task;
    const length = task.text.length;
    this.#view.setState(
      EditorState.create({
        doc: task.text,
        selection: task.caret === 'all' ? { anchor: 0, head: length } : { anchor: length },
        extensions: this.#extensions(task.label, task.placeholder, task.manyLines),
      }),
    );
    this.#refresh();
    this.#view.focus();
    this.#tellCaret();
    if (task.caret === 'end' && length === 1) startCompletion(this.#view);
  }

  get value(): string {
    return this.#view.state.doc.toString();
  }

  /** Puts text in where the caret is. */
  insert(text: string): void {
    this.#view.dispatch(this.#view.state.replaceSelection(text));
    this.#view.focus();
  }

  get working(): boolean {
    return this.#task !== undefined;
  }

  #refresh(): void {
    const task = this.#task;
    if (!task) return;
    const text = this.value;
    this.#preview = task.preview(text);
    const decorations = decorationsFor(this.#preview, text.length);
    queueMicrotask(() => this.#view.dispatch({ effects: setMarks.of(decorations) }));
    task.previewed(this.#preview);
  }

  #tellCaret(): void {
    this.#task?.caretAt(this.value, this.#view.state.selection.main.head);
  }

  /** Writes the formula with symbols and spaces; its meaning stays. */
  tidy(): boolean {
    const task = this.#task;
    if (!task) return false;
    const text = this.value;
    const tidied = task.tidy(text);
    if (tidied !== text) {
      this.#view.dispatch({
        changes: { from: 0, to: text.length, insert: tidied },
        selection: EditorSelection.cursor(tidied.length),
        // A step of its own, apart from what was typed.
        annotations: isolateHistory.of('full'),
      });
    }
    this.#view.focus();
    return true;
  }

  /** Carries out a fix of the first message. */
  fix(index: number): boolean {
    const fix = this.#preview?.messages[0]?.fixes[index];
    if (!fix) return false;
    const { start, end } = fix.span;
    this.#view.dispatch({ changes: { from: start, to: end, insert: fix.text } });
    this.#view.focus();
    return true;
  }

  /** Takes the chosen completion, or the first when none is chosen. */
  #takeFirst(): boolean {
    if (completionStatus(this.#view.state) !== 'active') return false;
    if (acceptCompletion(this.#view)) return true;
    moveCompletionSelection(true)(this.#view);
    return acceptCompletion(this.#view);
  }

  #keep(): boolean {
    if (completionStatus(this.#view.state) === 'active') closeCompletion(this.#view);
    const task = this.#task;
    if (!task) return false;
    if (task.keep(this.value)) this.#task = undefined;
    return true;
  }

  #drop(): boolean {
    const task = this.#task;
    this.#task = undefined;
    task?.drop();
    return true;
  }
}

customElements.define('dapple-editor', FormulaEditor);
