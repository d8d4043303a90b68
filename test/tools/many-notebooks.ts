// Small notebooks by the million, under the laws: `CASES=1000000 node engine/cli/launch.mjs
// test/tools/many-notebooks.ts`. `CASES_FROM` is the first number, `BREED` one breed or several
// with commas (all by turns), `LAW` one law or several (`opened`). They are worked in a thread beside;
// one that takes more than `HANG` seconds of processor time (10) is told and passed over.

import { fileURLToPath } from 'node:url';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { openSession } from '../../engine/index.ts';
import { LAWS } from '../engine/run/notebook-laws.ts';
import { BREEDS, type Breed, smallNotebook } from '../engine/run/small-notebook.ts';
import { Hand } from './dice.ts';

interface Work {
  readonly from: number;
  readonly until: number;
  readonly breeds: readonly Breed[];
  readonly laws: readonly string[];
  /** The number in hand, and how often there was another. */
  readonly at: Int32Array;
}
type News =
  | { readonly wrong: string }
  | { readonly reached: number; readonly told: string }
  | { readonly done: true };

/** Milliseconds of processor time beyond which a notebook of a few lines is slow. */
const SLOW = 100;

const breedOf = ({ breeds }: Work, seed: number): Breed => breeds[seed % breeds.length] ?? 'scraps';

function breaches(law: string, text: string, seed: number): readonly string[] {
  try {
    return LAWS[law]?.(text, new Hand(seed)) ?? ['no such law'];
  } catch (error) {
    return [`thrown ${error instanceof Error ? (error.stack ?? error.message) : error}`];
  }
}

/** Milliseconds. */
function processorTime(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function tryAll(work: Work, tell: (news: News) => void): void {
  const start = performance.now();
  let slowest = { took: 0, name: '' };
  for (let seed = work.from; seed < work.until; seed++) {
    work.at[0] = seed;
    const breed = breedOf(work, seed);
    const text = smallNotebook(breed, seed);
    for (const law of work.laws) {
      const name = `${breed} ${seed}, ${law}`;
      const before = performance.now();
      for (const one of breaches(law, text, seed)) tell({ wrong: `${name}: ${one}` });
      let took = performance.now() - before;
      if (took <= Math.max(SLOW, slowest.took)) continue;
      // On a busy machine the clock runs on while others have the processor.
      took = Math.min(
        took,
        processorTime(() => breaches(law, text, seed)),
      );
      if (took > SLOW) {
        // A law may open a notebook ten times over.
        const once = processorTime(() => void openSession(text).snapshot());
        tell({ wrong: `${name}: slow, ${Math.round(took)} ms (opened in ${Math.round(once)})` });
      }
      if (took > slowest.took) slowest = { took, name };
    }
    if ((seed + 1) % 10_000 === 0 || seed + 1 === work.until) {
      const mean = ((performance.now() - start) / (seed + 1 - work.from)).toFixed(2);
      const told = `${mean} ms each, at most ${slowest.took.toFixed(0)} (${slowest.name})`;
      tell({ reached: seed + 1, told });
    }
  }
  tell({ done: true });
}

/** Works numbers until all are done or one hangs; the next number to begin with. */
function workOn(work: Work, seconds: number): Promise<number> {
  return new Promise((resolve) => {
    const worker = new Worker(fileURLToPath(import.meta.url), { workerData: work });
    let known = -1;
    let since = process.cpuUsage();
    const end = (next: number): void => {
      clearInterval(watch);
      void worker.terminate().then(() => resolve(next));
    };
    // Processor time: on a busy machine a thread may get none for long.
    const watch = setInterval(() => {
      const seed = Atomics.load(work.at, 0);
      const { user, system } = process.cpuUsage(since);
      if (seed !== known) {
        known = seed;
        since = process.cpuUsage();
      } else if (user + system > seconds * 1e6) {
        console.log(`${breedOf(work, seed)} ${seed}: hangs`);
        end(seed + 1);
      }
    }, 250);
    worker.on('message', (news: News) => {
      if ('wrong' in news) console.log(news.wrong);
      else if ('reached' in news) console.log(`reached ${news.reached}: ${news.told}`);
      else end(work.until);
    });
    worker.on('error', (error) => {
      const seed = Atomics.load(work.at, 0);
      console.log(`${breedOf(work, seed)} ${seed}: ends the thread, ${error}`);
      end(seed + 1);
    });
  });
}

export async function main(): Promise<number> {
  const { CASES, CASES_FROM, BREED, LAW, HANG } = process.env;
  const breeds = BREEDS.filter((breed) => !BREED || BREED.split(',').includes(breed));
  const first = Number(CASES_FROM ?? 0);
  const until = first + Number(CASES ?? 10_000);
  const laws = (LAW ?? 'opened').split(',');
  for (let from = first; from < until; ) {
    const at = new Int32Array(new SharedArrayBuffer(4)).fill(from);
    from = await workOn({ from, until, breeds, laws, at }, Number(HANG ?? 10));
  }
  return 0;
}

if (!isMainThread && workerData?.laws)
  tryAll(workerData as Work, (news) => parentPort?.postMessage(news));
