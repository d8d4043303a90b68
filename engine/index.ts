// The only door of the engine: what the page and the command line may use.

export type { SlowResults } from './run/evaluation.ts';
export {
  type ReferenceEntry,
  referenceFunctions,
  referenceMessages,
  referenceOf,
  referenceUnits,
  referenceWords,
} from './run/reference.ts';
export type { Report, ReportCell, ReportValue } from './run/report.ts';
export { openSession, type Session } from './run/session.ts';
export type * from './run/snapshot.ts';
export { gathered, type StudyResults } from './run/study-results.ts';
export {
  placeRows,
  type TableFromText,
  tableFromText,
  tableLines,
  tableToText,
} from './run/table-exchange.ts';
export { tidyFormula, tidyNotebook } from './run/tidy.ts';
export { formulaInUnit } from './run/unit-choice.ts';
export { checkWords } from './run/verdict.ts';
export {
  influenceTable,
  type StudyTable,
  sweepTable,
  trialTables,
} from './study/report-studies.ts';
export { influenceOf } from './study/show-influence.ts';
export { type StudyWork, startShare, startStudies } from './study/studies.ts';
export type { TrialShare } from './study/trials.ts';
