// A heuristic of our own, to begin from: always the move that costs least together with what the bound says of the
// rest; then, until the time is over, the same again with a little noise in the choice, from the seed.
//
//   tackwright study examples/ring-of-six/ring-of-six.weldment.yaml \
//     --heuristic examples/heuristic/nearest-next.mjs --solvers beam --seeds 1-3 --seconds 2 --out results.csv

/** Compares costs term by term; later terms count where the earlier ones are equal. */
function compare(a, b) {
  const term = a.findIndex((value, i) => value !== b[i]);
  return term < 0 ? 0 : a[term] - b[term];
}

const sum = (a, b) => a.map((value, i) => value + b[i]);

/** One way through all items, or undefined where it ends too early. */
function dive(problem, pick) {
  const prefix = [];
  while (prefix.length < problem.length) {
    const ranked = problem
      .next(prefix)
      .map((move) => ({ move, cost: sum(move.cost, problem.bound([...prefix, move])) }))
      .filter(({ cost }) => Number.isFinite(cost[0]))
      .sort((a, b) => compare(a.cost, b.cost));
    if (ranked.length === 0) return undefined;
    prefix.push(ranked[pick(ranked.length)].move);
  }
  return prefix.map(({ item }) => item);
}

/** Takes the first of `count` most of the time, the second less often, and so on. */
const noisy = (random) => (count) => {
  let place = 0;
  while (place + 1 < count && random() < 0.2) place += 1;
  return place;
};

export default function nearestNext(problem, tools) {
  let best = dive(problem, () => 0);
  if (best) tools.report(best);
  while (tools.secondsLeft() > 0.1) {
    const order = dive(problem, noisy(tools.random));
    if (order && tools.report(order)) best = order;
  }
  return best ?? [];
}
