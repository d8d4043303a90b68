// What the page offers to the screens it holds: drawing, dialogs, files, the light. A screen is given
// these instead of the element itself, so that each screen names what it needs.

import type { TemplateResult } from 'lit';
import type { SavingState } from '../keep/storage.ts';
import type { Theme } from './theme.ts';

/** A dialog while it is open: how it is found in the page, and how it is drawn now. */
export interface OpenDialog {
  readonly selector: string;
  readonly view: () => TemplateResult;
}

export interface Saving {
  readonly state: SavingState;
  readonly why: string;
}

export interface PageTools {
  /** The element that everything is drawn in. */
  readonly root: HTMLElement;
  readonly theme: () => Theme;
  readonly width: () => number;
  readonly saving: () => Saving;
  /** Draws soon, together with what else changed. */
  readonly draw: () => void;
  /** Draws at once, so that what is typed next finds what was drawn. */
  readonly drawNow: () => void;
  /** Settles when everything asked for has been drawn. */
  readonly drawn: () => Promise<unknown>;
  /** Opens a dialog over the screen; it takes the place of another one. */
  readonly openDialog: (dialog: OpenDialog) => void;
  readonly closeDialog: () => void;
  readonly openFile: () => void;
  readonly saveFile: () => void;
  readonly saveFileAs: () => void;
  readonly send: () => void;
  readonly takeTableIn: () => void;
  readonly takeTableOut: () => void;
  /** Says one sentence in a notice that stays until it is put away, or passes by itself. */
  readonly tell: (sentence: string, passing?: 'passing') => void;
  readonly beginEmpty: () => void;
  readonly showHelp: () => void;
  /** Earlier versions of the open notebook. */
  readonly showVersions: () => void;
  /** The notebook is to be written here and no longer in the other tab. */
  readonly writeHere: () => void;
  readonly changeTheme: () => void;
  readonly themeButton: () => TemplateResult;
  readonly notices: () => TemplateResult;
}
