// What an open notebook needs beyond the first page, the engine and everything it is drawn with: one
// door, so that one request brings what is not the engine.

export { DappleChart } from './chart-element.ts';
export { Desk } from './desk.ts';
export { NotebookScreen } from './notebook-screen.ts';
