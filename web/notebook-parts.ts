// What an open notebook needs beyond the first page, the engine and everything it is drawn with: one
// door, so that one request brings what is not the engine.

export { DappleChart } from './chart/chart-element.ts';
export { Desk } from './desk/desk.ts';
export { NotebookScreen } from './screen/notebook-screen.ts';
