import { existsSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { compareCost, type Cost } from '../../src/algorithms/cost.js';
import { beam } from '../../src/algorithms/solvers/beam.js';
import type { SolverReport } from '../../src/algorithms/solvers/solver.js';
import { Budget } from '../../src/base/budget.js';
import { readFrame } from '../../src/io/read-frame.js';
import { frameChoicesSchema, type Frame, type FrameChoices } from '../../src/model/frame.js';
import { frameProblem } from '../../src/planning/frame-problem.js';
import { judgeFrameOrder } from '../../src/rules/frame-order.js';
import { gallows, ownFrame, randomFrame, standing, tripod } from '../support/frames.js';

const planned = (frame: Frame, steps = 20_000): SolverReport =>
  beam(frameProblem(frame), { budget: new Budget({ steps }), memory: 200_000_000, seed: 1 });

/** Every order that the checker passes, with its cost. */
function legalOrders(frame: Frame): ReadonlyMap<string, Cost> {
  const legal = new Map<string, Cost>();
  const extend = (order: readonly number[]): void => {
    if (order.length === frame.bars.length) {
      const judged = judgeFrameOrder(frame, order);
      if (judged.ok) legal.set(order.join(), judged.value);
    }
    frame.bars.forEach((_, bar) => {
      if (!order.includes(bar)) extend([...order, bar]);
    });
  };
  extend([]);
  return legal;
}

/** Every whole path of the problem, with its cost; each state's bound is compared with what its paths cost. */
function allPaths(frame: Frame): ReadonlyMap<string, Cost> {
  const problem = frameProblem(frame);
  const paths = new Map<string, Cost>();
  const visit = (state: Uint32Array, path: readonly number[], cost: Cost): Cost | undefined => {
    const bound = new Float64Array(2);
    problem.bound(state, path.length, bound);
    let least: Cost | undefined;
    if (path.length === problem.layers) {
      paths.set(path.join(), cost);
      least = [0, 0];
    } else {
      const moves = new Int32Array(problem.moves);
      const count = problem.movesFrom(state, moves);
      for (const move of moves.slice(0, count)) {
        const to = new Uint32Array(problem.words);
        const step = new Float64Array(2);
        problem.follow(state, move, to, step);
        const rest = visit(to, [...path, move], [cost[0]! + step[0]!, cost[1]! + step[1]!]);
        const whole = rest && [rest[0]! + step[0]!, rest[1]! + step[1]!];
        if (whole && (least === undefined || compareCost(whole, least) < 0)) least = whole;
      }
    }
    if (least) expect(compareCost([...bound], least)).toBeLessThanOrEqual(0);
    return least;
  };
  const start = new Uint32Array(problem.words);
  problem.start(start);
  visit(start, [], [0, 0]);
  return paths;
}

describe('frames of our own', () => {
  it('holds a tripod on single feet until its third leg has come', () => {
    const frame = tripod(standing());
    const report = planned(frame);
    expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [2, expect.any(Number)] } });
    expect(judgeFrameOrder(frame, report.best!.steps)).toEqual({ ok: true, value: report.best!.cost });
  });

  it('proves that nobody can put a tripod up who cannot hold a leg', () => {
    expect(planned(tripod(standing({ holds: 0 })))).toMatchObject({ outcome: 'impossible' });
  });

  it('needs nobody to hold a tripod whose feet are clamped well', () => {
    // A leg of 9.0 N leans out by 200 mm: 1.8 N m, and its push 0.8 N m; a foot of 10.65 mm carries them with 300 N.
    expect(planned(tripod(standing({ clamp: 600, holds: 0 })))).toMatchObject({
      outcome: 'optimal',
      best: { cost: [0, expect.any(Number)] },
    });
  });

  it('puts a portal up with one post held, which the beam then joins', () => {
    const frame = ownFrame(
      [
        [0, 0, 0],
        [0, 0, 1000],
        [1000, 0, 0],
        [1000, 0, 1000],
      ],
      [
        [0, 1],
        [2, 3],
        [1, 3],
      ],
      standing({ clamp: 400, 'tack-length': 30 }),
    );
    const report = planned(frame);
    expect(report.outcome).toBe('optimal');
    expect(judgeFrameOrder(frame, report.best!.steps)).toEqual({ ok: true, value: report.best!.cost });
    expect([...allPaths(frame).keys()].sort()).toEqual([...legalOrders(frame).keys()].sort());
  });

  it('brings the short arm of a gallows before the long one, in every order that stands', () => {
    const frame = gallows(standing({ holds: 0, 'tack-length': 60 }));
    const orders = [...allPaths(frame).keys()].map((order) => order.split(','));
    expect(orders.length).toBeGreaterThan(0);
    for (const order of orders) expect(order.slice(-2)).toEqual(['5', '6']);
  });

  it('finds the only order of a column of short bars', () => {
    // Tipping is at 10.65 mm: 12 % of 75 mm for the push, 1 mm for the shifted centre of mass.
    const heights = [0, 25, 50, 75];
    const frame = ownFrame(
      heights.map((z) => [0, 0, z]),
      [
        [2, 3],
        [0, 1],
        [1, 2],
      ],
      standing({ holds: 0 }),
    );
    expect([...allPaths(frame).keys()]).toEqual(['1,2,0']);
    expect(planned(frame)).toMatchObject({ outcome: 'optimal', best: { steps: [1, 2, 0], cost: [0, 50] } });
  });
});

describe('small random frames', () => {
  it('have the paths and costs that the checker finds among all orders, and their least as the proved best', () => {
    let withOrders = 0;
    let refused = 0;
    for (let seed = 1; seed <= 120; seed += 1) {
      const frame = randomFrame(seed);
      const legal = legalOrders(frame);
      expect(new Map([...allPaths(frame)].sort())).toEqual(new Map([...legal].sort()));
      const report = planned(frame);
      const costs = [...legal.values()].sort(compareCost);
      expect(report.outcome).toBe(costs.length > 0 ? 'optimal' : 'impossible');
      if (costs.length > 0) expect(report.best!.cost).toEqual(costs[0]);
      withOrders += costs.length > 0 ? 1 : 0;
      refused += costs.length < 24 ? 1 : 0;
    }
    expect(withOrders).toBeGreaterThan(30);
    expect(refused).toBeGreaterThan(30);
  });
});

// Published bar frames; repository and licence in ../shared/data/SOURCES.md. They have no known optima.
const FOLDER = new URL('../../../shared/data/frames/', import.meta.url);
const present = existsSync(FOLDER);

function published(file: string, choices: FrameChoices): Frame {
  const packed = readFileSync(new URL(file, FOLDER));
  const text = (file.endsWith('.gz') ? gunzipSync(packed) : packed).toString('utf8');
  return readFrame(text, file, choices).value!;
}

describe('published frames', () => {
  it.skipIf(!present).each([
    ['extreme_beam_test.json', 17],
    ['simple_frame.json', 19],
    ['long_beam_test.json', 30],
    ['topopt-101_tiny.json', 76],
    ['semi_sphere.json', 87],
  ])('proves the best order of %s', (file, bars) => {
    const frame = published(file, frameChoicesSchema.parse({}));
    expect(frame.bars.length).toBe(bars);
    const report = planned(frame);
    expect(report.outcome).toBe('optimal');
    expect(judgeFrameOrder(frame, report.best!.steps)).toEqual({ ok: true, value: report.best!.cost });
  });

  it.skipIf(!present).each([
    ['compas_fea_beam_tree_simp.json', 72, 0.25],
    ['klein_bottle.json', 246, 0.06],
    ['topopt-310_S1_03-14-2019_w_layer.json', 310, 0.2],
  ])('finds an order of %s with a stated gap', (file, bars, gap) => {
    const frame = published(file, frameChoicesSchema.parse({}));
    expect(frame.bars.length).toBe(bars);
    const report = planned(frame, 2 * bars);
    const [held, travel] = report.best!.cost;
    expect(report.bound[0]).toBeLessThanOrEqual(held!);
    expect(travel!).toBeLessThanOrEqual((1 + gap) * report.bound[1]!);
    expect(judgeFrameOrder(frame, report.best!.steps)).toEqual({ ok: true, value: report.best!.cost });
  });

  it.skipIf(!present).each(['long_beam_test.json', 'compas_fea_beam_tree_simp.json', 'klein_bottle.json'])(
    'proves at once that %s does not stand on feet that nothing clamps',
    (file) => {
      const report = planned(published(file, frameChoicesSchema.parse({ clamp: 0 })), 10);
      expect(report.outcome).toBe('impossible');
    },
  );
});
