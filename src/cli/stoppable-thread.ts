import { Worker } from 'node:worker_threads';
import { compileLater } from './compile-later.js';
import { EXIT } from './exit-codes.js';

/** What a thread is given. `stop` is one shared integer: anything but 0 asks it to stop. */
export interface StoppableJob {
  readonly stop: SharedArrayBuffer;
}

/**
 * Runs a thread up to its outcome, which `heard` gives for the message that brings it. The first interrupt asks it to stop,
 * the second ends the process; `kept` says what there is after the first.
 */
export async function stoppableThread<Message, Outcome>(
  file: URL,
  job: StoppableJob,
  kept: string,
  heard: (message: Message) => Outcome | undefined,
): Promise<Outcome> {
  compileLater();
  const worker = new Worker(file, { workerData: job });
  const interrupt = (): void => {
    if (Atomics.exchange(new Int32Array(job.stop), 0, 1) !== 0) process.exit(EXIT.interrupted);
    process.stderr.write(`\nstopping; ${kept} (interrupt again to leave at once)\n`);
  };
  process.on('SIGINT', interrupt);
  process.on('SIGTERM', interrupt);
  try {
    return await new Promise<Outcome>((resolve, reject) => {
      worker.on('message', (message: Message) => {
        const outcome = heard(message);
        if (outcome !== undefined) resolve(outcome);
      });
      worker.on('error', reject);
    });
  } finally {
    process.off('SIGINT', interrupt);
    process.off('SIGTERM', interrupt);
    showLine('');
    await worker.terminate();
  }
}

/** One line, rewritten in place, on a terminal only. */
export function showLine(text: string): void {
  if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
}
