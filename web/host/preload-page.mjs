// The page's own part is asked for by its first lines; the HTML names it and what it needs as well, so
// that all of it comes in one round of requests. What an open notebook needs is named too, but asked
// for only when the address names a notebook: no server sees that part of it, so a line of script
// looks. Its text is the same in every build, for the policy allows it by its sum.

import { FIRST_LINES } from './security-headers.mjs';

/** @typedef {{ fileName: string, imports: string[], isEntry: boolean, facadeModuleId: string | null }} Chunk */

/**
 * A chunk and all that it imports, near or far.
 *
 * @param {readonly Chunk[]} chunks
 * @param {string} module how the path of its module ends
 */
function withImports(chunks, module) {
  const first = chunks.find(({ facadeModuleId }) => facadeModuleId?.endsWith(module));
  if (!first) throw new Error(`the chunk of ${module} was not found`);
  const files = new Set([first.fileName]);
  for (const file of files)
    for (const one of chunks.find(({ fileName }) => fileName === file)?.imports ?? [])
      files.add(one);
  return files;
}

/** @returns {import('vite').Plugin} */
export function preloadPage() {
  return {
    name: 'preload-page',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler(html, { bundle = {} }) {
        const chunks = Object.values(bundle).filter((one) => one.type === 'chunk');
        const first = chunks.filter(({ isEntry }) => isEntry).map(({ fileName }) => fileName);
        const page = withImports(chunks, '/web/app.ts');
        const ahead = withImports(chunks, '/web/notebook-parts.ts');
        for (const file of first) page.delete(file);
        for (const file of [...first, ...page]) ahead.delete(file);
        const link = (/** @type {string} */ kind) => (/** @type {string} */ file) =>
          `<link ${kind} crossorigin href="./${file}">`;
        const lines = [
          ...[...page].map(link('rel="modulepreload"')),
          ...[...ahead].map(link('data-ahead')),
          `<script>${FIRST_LINES}</script>`,
        ];
        // Before the style sheet: a script behind it would wait for it.
        return html.replace('<title>', `${lines.join('\n    ')}\n    <title>`);
      },
    },
  };
}
