// The only door of the engine: what the page and the command line may use.

export type { StudyResults, StudyWork } from './run/studies.ts';
export type { SlowResults } from './run/evaluation.ts';
export type { Report, ReportCell, ReportValue } from './run/report.ts';
export { openSession, type Session } from './run/session.ts';
export type * from './run/snapshot.ts';
