import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { addCost, compareCost, zeroCost } from '../../src/algorithms/cost.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { planSession } from '../../src/session/plan.js';
import { orderPaths, orderProblemOf } from '../support/order-paths.js';
import { planIn, Planner, sourcesOf, story, type CellEntries, type Files } from '../support/planned.js';
import { anyRow, rowFiles } from './random-weldments.js';

const STORY = 'two-torches-on-opposed-sides';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

/** The cell with a second welding robot, of the same kind, at an angle about the table from the first. */
function withSecond(cell: CellEntries, degrees: number, radius: number): CellEntries {
  const [x, y] = cell.stations.table.at;
  const angle = (degrees * Math.PI) / 180;
  const at = [Math.round(x + radius * Math.cos(angle)), Math.round(y + radius * Math.sin(angle)), 0];
  const second = {
    ...cell.robots['welder']!,
    at,
    turn: [0, 0, degrees + 180],
  } as CellEntries['robots'][string];
  return { ...cell, robots: { ...cell.robots, second } };
}

const stepsOf = ({ programs }: GeometricPlan, robot: string): readonly Step[] =>
  programs.find((program) => program.robot === robot)!.steps;

describe('two welding robots', () => {
  it('never lead to a plan that breaks a rule, whatever stands where', () => {
    const anyCell = fc.record({
      row: anyRow(),
      degrees: fc.constantFrom(-90, -60, -30, 30, 60, 90),
      radius: fc.integer({ min: 1200, max: 1450 }),
    });
    fc.assert(
      fc.property(anyCell, ({ row, degrees, radius }) => {
        const { weldment, cell } = rowFiles(row);
        const outcome = planner.outcomeAnew({ weldment, cell: withSecond(cell, degrees, radius) }, 200);
        expect(['planned', 'impossible', 'none-found']).toContain(outcome.kind);
      }),
      { numRuns: 3, seed: 5 },
    );
  }, 600_000);

  it('lay the sides of a joint at once, and sooner than either alone would', () => {
    const files = story(STORY);
    const both = planner.plan(files);
    const { left, right, ...handlers } = files.cell.robots;
    for (const [id, robot] of Object.entries({ left: left!, right: right! })) {
      const alone = planner.outcome({
        ...files,
        cell: { ...files.cell, robots: { ...handlers, [id]: robot } },
      });
      if (alone.kind === 'planned')
        expect(planIn(alone).timeline.makespan).toBeGreaterThan(both.timeline.makespan);
    }
    expect(new Set(both.stages[1]!.tacks.map(({ robot }) => robot))).toEqual(new Set(['left', 'right']));
  });

  it('wait for one another where their torches would come too near, whoever costs less time', () => {
    const files = story(STORY);
    const settings = { text: 'motion: { clearance: 20 }', name: 'settings.yaml' };
    const plan = planIn(planSession({ ...sourcesOf(files), settings }, { programs: planner.programs }));
    const torches = ['left', 'right'];
    const waits = plan.handshakes.filter(
      ({ from, to }) => torches.includes(from.robot) && torches.includes(to.robot),
    );
    expect(waits.map(({ meaning }) => meaning)).toEqual(
      waits.map(
        () => expect.stringMatching(/^(left|right) at .*, out of the way of (left|right)$/) as string,
      ),
    );
    expect(waits).not.toHaveLength(0);
    expect(plan.timeline.choices).toBeGreaterThan(0);
    expect(plan.timeline.bound).toBe(plan.timeline.makespan);
  });

  /** A base put down by eye, an arm that seats, and the robots that can find a seam. */
  function loosely(...searching: readonly string[]): Files {
    const files = structuredClone(story(STORY));
    const { robots, stations } = files.cell;
    for (const robot of searching) robots[robot]!['seam-search'] = { seconds: 4 };
    robots['handler']!['seating'] = { force: 30 };
    stations.table['first-part'] = { clamp: 'table-magnets', force: 1500, accuracy: 1.2 };
    return files;
  }

  it('find a joint each for itself', () => {
    const plan = planner.plan(loosely('left', 'right'));
    expect(plan.stages[1]!.remedies).toEqual(['seat', 'seam-search']);
    for (const robot of ['left', 'right']) {
      const kinds = stepsOf(plan, robot).map((step) => step.do);
      expect(kinds.filter((kind) => kind === 'seam-search')).toHaveLength(1);
      expect(kinds.indexOf('seam-search')).toBeLessThan(kinds.indexOf('tack'));
    }
  });

  it('need to find seams both, since either may lay the tacks', () => {
    const outcome = planner.outcome(loosely('left'));
    if (outcome.kind !== 'impossible') throw new Error(outcome.kind);
    const misfit = outcome.reasons.find(({ code }) => code === 'no-accuracy');
    expect(misfit?.nearest?.code).toBe('seam-not-met');
  });

  it('never have moves that cost more than the rest of an order', () => {
    const problem = orderProblemOf(story(STORY), planner.programs);
    let judged = 0;
    for (const moves of orderPaths(problem)) {
      const relaxed = moves.reduce((sum, { cost }) => addCost(sum, cost), zeroCost(problem.terms));
      const completed = problem.complete(moves.map(({ step }) => step));
      if (completed.kind !== 'legal') continue;
      expect(compareCost(relaxed, completed.cost)).toBeLessThanOrEqual(0);
      judged += 1;
    }
    expect(judged).toBeGreaterThan(0);
  });
});
