// Where the page begins: the theme before the first paint, then the one element everything is in. An
// address that names a notebook has its parts fetched beside the page's own, not after them.

import { fetchAhead } from './notebook-ahead.ts';
import { startTheme } from './parts/theme.ts';

startTheme();
// A file dropped before the page listens must not take the page's place.
for (const kind of ['dragover', 'drop']) addEventListener(kind, (event) => event.preventDefault());
if (location.hash.length > 2) fetchAhead();
void import('./app.ts').then(({ DappleApp }) => customElements.define('dapple-app', DappleApp));
