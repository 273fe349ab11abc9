import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { beam } from '../src/algorithms/solvers/beam.js';
import { Budget } from '../src/base/budget.js';
import { readFrame } from '../src/io/read-frame.js';
import { frameChoicesSchema } from '../src/model/frame.js';
import { frameProblem } from '../src/planning/frame-problem.js';
import { judgeFrameOrder } from '../src/rules/frame-order.js';
import { row, seconds } from './printing.js';

const FOLDER = join(import.meta.dirname, '..', '..', 'shared', 'data', 'frames');
const MEMORY = 500_000_000;

const textOf = (file: string): string => {
  const content = readFileSync(join(FOLDER, file));
  return (file.endsWith('.gz') ? gunzipSync(content) : content).toString('utf8');
};

/** Orders of the published frames by the beam, with so many seconds each, judged by the checker. */
export function frames(patience: number, most = Infinity): void {
  if (!existsSync(FOLDER)) {
    console.log('frames of bars: skipped, ../shared/data/frames is absent');
    return;
  }
  for (const file of readdirSync(FOLDER).filter((name) => /\.json(\.gz)?$/.test(name)))
    oneFrame(file, patience, most);
}

function oneFrame(file: string, patience: number, most: number): void {
  const frame = readFrame(textOf(file), file, frameChoicesSchema.parse({})).value!;
  const count = frame.bars.length;
  if (count > most) return;
  const clock = (): number => performance.now() / 1000;
  const begun = clock();
  const found: number[] = [];
  let note = '';
  const time = seconds(() => {
    const report = beam(frameProblem(frame), {
      budget: new Budget({ steps: Infinity, seconds: patience, clock }),
      ...{ memory: MEMORY, seed: 1 },
      onImprovement: () => found.push(clock() - begun),
    });
    const judged = report.best && judgeFrameOrder(frame, report.best.steps);
    const cost = judged?.ok === true ? judged.value.join(' / ') : 'no order';
    note = `${report.outcome}, held / mm ${cost}, bound ${report.bound.join(' / ')}, first after ${found[0]?.toFixed(2)} s`;
  });
  row(`order of a frame of ${count} bars`, [time], note);
}
