// The page's own part is asked for by its first lines; the HTML names it and what it needs as well, so
// that all of it comes in one round of requests.

/** @returns {import('vite').Plugin} */
export function preloadPage() {
  return {
    name: 'preload-page',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler(_, { bundle = {} }) {
        const chunks = Object.values(bundle).filter((one) => one.type === 'chunk');
        const page = chunks.find(({ facadeModuleId }) => facadeModuleId?.endsWith('/web/app.ts'));
        if (!page) throw new Error('the chunk of web/app.ts was not found');
        const first = chunks.filter(({ isEntry }) => isEntry).map(({ fileName }) => fileName);
        const needed = page.imports.filter((file) => !first.includes(file));
        return [page.fileName, ...needed].map((file) => ({
          tag: 'link',
          attrs: { rel: 'modulepreload', crossorigin: true, href: `./${file}` },
          injectTo: 'head',
        }));
      },
    },
  };
}
