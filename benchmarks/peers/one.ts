import type { Answer, Contestant } from './contestants.js';
import { seededOrdering, seededWeldment } from './instances.js';
import { OBJECTIVE, type Task, type Told } from './task.js';

/** One contestant in a process of its own, so that it meets each instance cold. Prints what it has to tell. */
async function main({ kind, who, size, seed, patience, again }: Task): Promise<void> {
  const solveOnce = (by: Contestant): Answer<readonly unknown[]> =>
    kind === 'weldment'
      ? by.weldment(seededWeldment(seed, size), OBJECTIVE, patience)
      : by.ordering(seededOrdering(seed, size), patience);
  const since = (start: number): number => (performance.now() - start) / 1000;
  const start = performance.now();
  const by =
    who === 'ours'
      ? await (await import('./ours.js')).loadOurs()
      : await (await import('./contestants.js')).loadPeer(who);
  const load = since(start);
  const first = performance.now();
  const answer = solveOnce(by);
  const cold = since(first);
  const warm = Array.from({ length: answer.status === 'optimal' ? again : 0 }, () => {
    const begin = performance.now();
    solveOnce(by);
    return since(begin);
  });
  console.log(JSON.stringify({ answer, load, cold, warm } satisfies Told));
}

await main(JSON.parse(process.argv[2]!) as Task);
