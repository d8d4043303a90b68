// Workers that share their code with the page. Left to itself, the bundler builds a worker apart,
// with a second copy of the engine; here a worker is one more entry of the page's own build, so that
// the engine is loaded, kept offline and updated once.

/** As the page asks for a worker: `new Worker(new URL('./study-worker.ts', import.meta.url), …)`. */
const WORKER = /new URL\('(\.\/[\w-]+-worker\.ts)', import\.meta\.url\)/gu;

/** @returns {import('vite').Plugin} */
export function sharedWorkers() {
  return {
    name: 'shared-workers',
    apply: 'build',
    enforce: 'pre',
    async transform(code, importer) {
      if (!importer.endsWith('.ts') || !WORKER.test(code)) return null;
      WORKER.lastIndex = 0;
      const found = [...code.matchAll(WORKER)];
      let out = code;
      for (const [whole, source = ''] of found) {
        const resolved = await this.resolve(source, importer);
        if (!resolved) throw new Error(`the worker ${source} was not found`);
        const name = source.replace(/^\.\/|\.ts$/gu, '');
        const chunk = this.emitFile({ type: 'chunk', id: resolved.id, name });
        out = out.replace(whole, `import.meta.ROLLUP_FILE_URL_${chunk}`);
      }
      return { code: out, map: null };
    },
  };
}
