// Where the page begins: the theme before the first paint, then the one element everything is in.

import { DappleApp } from './app.ts';
import { startTheme } from './theme.ts';

startTheme();
customElements.define('dapple-app', DappleApp);
