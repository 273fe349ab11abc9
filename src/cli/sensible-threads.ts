import { availableParallelism } from 'node:os';

/** More threads than this for each core only wait for each other and take memory (our choice). */
const THREADS_A_CORE = 4;

/** As many threads as asked for, as far as that makes sense on this machine. */
export function sensibleThreads(asked: number): number {
  const most = THREADS_A_CORE * availableParallelism();
  if (asked <= most) return asked;
  process.stderr.write(
    `--threads ${asked}: ${most} are used, ${THREADS_A_CORE} for each core of this machine\n`,
  );
  return most;
}
