// What can be done with an open notebook, each command described once: its words, its keys, when it
// is there, and what it does. The field that goes to places lists them, and the keys that work
// everywhere look here.

import type { Desk } from '../desk/desk.ts';
import type { PageTools } from '../parts/page-tools.ts';
import { nextTheme, wordOf } from '../parts/theme.ts';

export interface PageCommand {
  readonly label: string;
  /** As a person says them: `Ctrl Shift Z`; the first is shown. Control is Command on a Mac. */
  readonly keys?: readonly string[];
  /** Told beside the label when there are no keys. */
  readonly detail?: string;
  /** Not in the list of places and commands: it opens that list, or only keys make sense of it. */
  readonly unlisted?: true;
  /** False while a formula is being edited, when the keys belong to the editor. */
  readonly whileEditing: boolean;
  readonly run: () => void;
}

/** What commands need of the screen of an open notebook. */
export interface CommandTarget {
  readonly desk: Desk;
  readonly tools: PageTools;
  /** The table readings are logged in, when there is one. */
  readonly log: unknown;
  readonly showGoTo: () => void;
  readonly addScenario: () => void;
  /** The rows that words last led to. */
  readonly found: { readonly any: boolean; readonly step: (by: -1 | 1) => void };
  readonly showReading: () => void;
  /** One cell at a time, large, for a room. */
  readonly showBoard: () => void;
  readonly nextRegion: () => void;
}

export function commandsOf(screen: CommandTarget): readonly PageCommand[] {
  const { desk, tools } = screen;
  const always = { whileEditing: true } as const;
  const between = { whileEditing: false } as const;
  return [
    {
      label: 'Go to',
      keys: ['Ctrl K'],
      unlisted: true,
      ...always,
      run: () => screen.showGoTo(),
    },
    ...(screen.found.any
      ? [
          {
            label: 'The next one found',
            keys: ['F3'],
            unlisted: true,
            ...between,
            run: (): void => screen.found.step(1),
          } as const,
          {
            label: 'The one found before',
            keys: ['Shift F3'],
            unlisted: true,
            ...between,
            run: (): void => screen.found.step(-1),
          } as const,
        ]
      : []),
    { label: 'Add a scenario', ...always, run: () => screen.addScenario() },
    ...(screen.log ? [{ label: 'New reading', ...always, run: () => screen.showReading() }] : []),
    {
      label: 'Board, for a room',
      keys: ['F9'],
      ...always,
      run: () => screen.showBoard(),
    },
    { label: 'Send', keys: ['Ctrl E'], ...always, run: () => tools.send() },
    { label: 'Save to file', keys: ['Ctrl S'], ...always, run: () => tools.saveFile() },
    {
      label: 'Save as another file',
      keys: ['Ctrl Shift S'],
      ...always,
      run: () => tools.saveFileAs(),
    },
    { label: 'Open a file', keys: ['Ctrl O'], ...always, run: () => tools.openFile() },
    { label: 'Take a table in', ...always, run: () => tools.takeTableIn() },
    ...(desk.rows.some((row) => row.kind === 'table')
      ? [{ label: 'Take a table out', ...always, run: (): void => tools.takeTableOut() }]
      : []),
    {
      label: 'Tidy the notebook',
      detail: 'only how lines look',
      ...between,
      run: () => {
        if (!desk.run({ do: 'tidy' }, 'tidying')) tools.tell('Nothing to tidy here.', 'passing');
      },
    },
    { label: 'Earlier versions', ...always, run: () => tools.showVersions() },
    // The browser answers these keys itself.
    { label: 'Print', detail: 'Ctrl P', ...always, run: () => print() },
    { label: 'Undo', keys: ['Ctrl Z'], ...between, run: () => desk.undo() },
    { label: 'Redo', keys: ['Ctrl Shift Z', 'Ctrl Y'], ...between, run: () => desk.redo() },
    {
      label: 'Rename the notebook',
      detail: 'its title',
      ...between,
      run: () => {
        const title = tools.root.querySelector<HTMLTextAreaElement>('.bar .title');
        title?.focus();
        title?.select();
      },
    },
    {
      label: 'Change the light',
      detail: wordOf(nextTheme(tools.theme())),
      ...always,
      run: () => tools.changeTheme(),
    },
    {
      label: 'Next region',
      keys: ['F6'],
      unlisted: true,
      ...always,
      run: () => screen.nextRegion(),
    },
    { label: 'Help', keys: ['F1'], ...always, run: () => tools.showHelp() },
  ];
}

/** What was pressed, as commands name their keys. */
export function pressedKeys(event: KeyboardEvent): string {
  const key = event.key.length === 1 ? event.key.toUpperCase() : event.key;
  return [
    event.ctrlKey || event.metaKey ? 'Ctrl' : '',
    event.altKey ? 'Alt' : '',
    event.shiftKey ? 'Shift' : '',
    key,
  ]
    .filter((part) => part !== '')
    .join(' ');
}

/** The command that these keys give now. */
export function commandFor(
  commands: readonly PageCommand[],
  event: KeyboardEvent,
  editing: boolean,
): PageCommand | undefined {
  const pressed = pressedKeys(event);
  return commands.find(
    (command) => command.keys?.includes(pressed) === true && (command.whileEditing || !editing),
  );
}
