// Draws the first picture of every starter into the built folder, and names them in the HTML, so that
// no other name is ever asked for.

import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { projectRoot } from './prepare.mjs';

/** @returns {Readonly<Record<string, string>>} markup by the name of its starter */
function drawPictures() {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [resolve(projectRoot, 'engine/cli/launch.mjs'), 'web/screen/first-picture.ts'],
    { cwd: projectRoot, encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 },
  );
  if (status !== 0) throw new Error(`The first pictures could not be drawn:\n${stderr}`);
  return JSON.parse(stdout);
}

/** @returns {import('vite').Plugin} */
export function firstPictures() {
  /** @type {readonly string[]} */
  let names = [];
  return {
    name: 'first-pictures',
    apply: 'build',
    buildStart() {
      const pictures = drawPictures();
      names = Object.keys(pictures);
      for (const [name, source] of Object.entries(pictures))
        this.emitFile({ type: 'asset', fileName: `first/${name}.html`, source });
    },
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { name: 'pictured', content: names.join(' ') },
        injectTo: 'head-prepend',
      },
    ],
  };
}
