import { kendall, spearman } from '../src/algorithms/rank-correlation.js';
import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { seededRandom } from '../src/base/random.js';
import { setOf } from '../src/base/part-set.js';
import type { Facts } from '../src/facts/facts.js';
import { OrderCompleter } from '../src/planning/complete.js';
import { DistortionProxy } from '../src/planning/distortion-proxy.js';
import { distortionKey } from '../src/planning/distortion-key.js';
import { distortionStage } from '../src/planning/distortion-stage.js';
import { OrderProblem } from '../src/planning/order-problem.js';
import { factsOf } from '../src/planning/plan.js';
import type { StageDraft } from '../src/planning/stage-draft.js';
import { DistortionRun, runStage } from '../src/rules/distortion-run.js';
import { readInputs } from '../src/session/inputs.js';
import { shapedExamples } from './grip-density.js';
import { row, seconds } from './printing.js';

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Seeded orders of legal moves, all different; ones that lead nowhere are left out. */
function randomOrders(facts: Facts, wanted: number): readonly (readonly StageDraft[])[] {
  const random = seededRandom(11);
  const problem = new OrderProblem(facts, new OrderCompleter(facts));
  const found = new Map<string, readonly StageDraft[]>();
  for (let tries = 0; tries < 4 * wanted && found.size < wanted; tries += 1) {
    const drafts: StageDraft[] = [];
    let state = problem.start;
    while (state.count < problem.layers) {
      const moves = [...problem.transitions(state)];
      if (moves.length === 0) break;
      const move = moves[Math.floor(random() * moves.length)]!;
      drafts.push(move.step);
      state = move.to;
    }
    if (drafts.length < problem.layers) continue;
    found.set(distortionKey(drafts), drafts);
  }
  return [...found.values()];
}

/** Sum over the tolerance features of how far they are off, mm, by the full engine. */
function deviation({ scene, settings }: Facts, drafts: readonly StageDraft[]): number {
  const run = new DistortionRun(scene, settings);
  for (const draft of drafts) runStage(run, distortionStage(draft));
  return sum(run.deviations().map((feature) => feature.deviation));
}

/** The same by what the estimate of the search adds up. */
const estimated = (proxy: DistortionProxy, facts: Facts, drafts: readonly StageDraft[]): number =>
  sum(
    drafts.map((draft, i) => {
      const earlier = drafts.slice(0, i);
      const inPlace = setOf(
        facts.scene.parts.length,
        earlier.map(({ part }) => part),
      );
      const laid = earlier.flatMap(({ tacks }) => tacks.map(({ site }) => site));
      return sum(proxy.shiftsOf(draft, { inPlace, first: drafts[0]!.part, laid }));
    }),
  );

/** How far the estimate of distortion in the search and the full engine agree on which of two orders is the better one. */
export function distortionProxy(programs: LinearPrograms, names: readonly string[], orders: number): void {
  for (const { name, sources } of shapedExamples()) {
    if (!names.includes(name)) continue;
    const { weldment, cell, settings } = readInputs(sources).inputs!;
    if (weldment.kind !== 'geometric') continue;
    const facts = factsOf(weldment, cell!, settings, programs);
    const drafts = randomOrders(facts, orders);
    const proxy = new DistortionProxy(facts);
    let [byEngine, byProxy]: (readonly number[])[] = [[], []];
    const engine = seconds(() => (byEngine = drafts.map((order) => deviation(facts, order))));
    const cheap = seconds(() => (byProxy = drafts.map((order) => estimated(proxy, facts, order))));
    const agreed = `Spearman ${spearman(byProxy!, byEngine!).toFixed(2)}, Kendall ${kendall(byProxy!, byEngine!).toFixed(2)}`;
    const range = `${Math.min(...byEngine!).toFixed(2)} to ${Math.max(...byEngine!).toFixed(2)} mm`;
    row(`distortion of ${name}, ${drafts.length} random orders`, [engine], `full engine, ${range}`);
    row('  estimate of the search, each move once', [cheap], agreed);
  }
}
