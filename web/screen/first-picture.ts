// The picture of each starter as it first stands in a window, drawn when the page is built: the same
// parts draw it that later draw the notebook itself, with what the same engine works out. A browser
// shows it while the engine is still on its way. This is no part of the page: it runs once, in Node.

import { render } from '@lit-labs/ssr';
import { collectResult } from '@lit-labs/ssr/lib/render-result.js';
import { html } from 'lit';
import { Desk } from '../desk/desk.ts';
import { Storage } from '../keep/storage.ts';
import type { PageTools } from '../parts/page-tools.ts';
import { THEMES } from '../parts/theme.ts';
import { stripsInView } from '../sheet/strips-in-view.ts';
import { never, openWindow, pictureRoot } from './first-picture-window.ts';
import { lightButton } from './light-button.ts';
import { NotebookScreen } from './notebook-screen.ts';
import { STARTERS, starterText } from './starters.ts';

/** Wide enough for all strips beside the bench, px. */
const WIDE = 4000;
const REM = 16;
/** Widths at which one strip more finds room are looked for up to here, and so finely, rem. */
const WIDEST = 200;
const FINE = 0.05;

/** The least widths for one strip, for two and so on, rem. */
function leastWidths(total: number, besideBench: boolean): readonly number[] {
  const least: number[] = [0];
  for (let width = 0; width < WIDEST; width += FINE) {
    const room = { width, narrow: false, besideBench, total, scenario: 0, first: 1 };
    if (stripsInView(room).length > least.length) least.push(Number(width.toFixed(2)));
  }
  return least;
}

/** What only a page that answers needs goes, and what the policy forbids in text. */
function lean(markup: string): string {
  return markup
    .replaceAll(/<!--[\s\S]*?-->|<\?>/gu, '')
    .replaceAll(/<div [^>]*\bpopover>[\s\S]*?<\/div>/gu, '')
    .replaceAll(
      / (?:id|role|tabindex|title|for|name|popovertarget|data-item|aria-(?!pressed)[\w-]+)="[^"]*"/gu,
      '',
    )
    .replaceAll(' style="', ' data-style="')
    .replaceAll(/[ \n]+/gu, ' ')
    .replaceAll(/ (?=>)/gu, '');
}

/** Of the window that is drawn for, px. */
let width = WIDE;

/** A page that is looked at only. */
const tools: PageTools = {
  root: pictureRoot,
  theme: () => 'light',
  width: () => width,
  saving: () => ({ state: 'saved', why: '' }),
  draw: never,
  drawNow: never,
  drawn: async () => {},
  openDialog: never,
  closeDialog: never,
  openFile: never,
  saveFile: never,
  saveFileAs: never,
  send: never,
  takeTableIn: never,
  takeTableOut: never,
  tell: never,
  beginEmpty: never,
  showHelp: never,
  showVersions: never,
  writeHere: never,
  changeTheme: never,
  themeButton: () => lightButton('light', never),
  notices: () => html``,
};

/** The markup of a starter's first window. */
async function windowOf(desk: Desk, narrow: boolean): Promise<string> {
  openWindow(narrow);
  return lean(await collectResult(render(new NotebookScreen(desk, tools).render()))).trim();
}

/** What goes through the scenarios while the window has room for so many strips. */
async function pagerFor(desk: Desk, least: number): Promise<string> {
  width = least * REM;
  const markup = await windowOf(desk, false);
  width = WIDE;
  return /<div class="pager">[\s\S]*?<\/div>/u.exec(markup)?.[0] ?? '<i></i>';
}

/**
 * One starter: the page with all strips and the bench, and before it, as a template, what a narrow
 * page has in other places, and what goes through the scenarios, for each number of strips. The rows
 * are the same on both. The lines that show it take out what the window has no room for, by the widths
 * that stand at its head.
 */
async function pictureOf(id: string): Promise<string> {
  const text = await starterText(id);
  if (text === undefined) throw new Error(`there is no starter ${id}`);
  const desk = new Desk(id, text, new Storage(never, never), never);
  const narrow = (await windowOf(desk, true)).replace(
    /(<div class="sheet">)[\s\S]*?(?=<p class="another"|<\/main>)/u,
    '$1</div>',
  );
  const total = desk.snapshot.verdicts.length;
  const benched = leastWidths(total, true);
  const pagers: string[] = [];
  for (const least of benched) pagers.push(await pagerFor(desk, least));
  const data = [
    ['benched', benched.join(' ')],
    ['alone', leastWidths(total, false).join(' ')],
    ...THEMES.map(({ theme, word }) => [theme, word]),
  ];
  const words = data.map(([name, value]) => ` data-${name}="${value}"`).join('');
  const wide = (await windowOf(desk, false)).replace(
    /^<div class="[^"]*"/u,
    `<div class="app"${words}`,
  );
  return `<template>${narrow}${pagers.join('')}</template>${wide}\n`;
}

/** Prints the pictures of all starters, by name. */
export async function main(): Promise<number> {
  const pictures: Record<string, string> = {};
  for (const { id } of STARTERS) pictures[id] = await pictureOf(id);
  process.stdout.write(JSON.stringify(pictures));
  return 0;
}
