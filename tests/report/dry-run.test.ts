import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { canonicalText } from '../../src/io/canonical.js';
import { dryRunSchema, type DryRun } from '../../src/model/dry-run.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import { dryRun } from '../../src/report/dry-run.js';
import { handMadePlan } from '../support/hand-made-plan.js';

let plan: GeometricPlan;
let dry: DryRun;
beforeAll(async () => {
  plan = handMadePlan(await loadLinearPrograms());
  dry = dryRun(plan);
});

const planned = <K extends Step['do']>(kind: K): Extract<Step, { do: K }>[] =>
  plan.programs
    .flatMap(({ steps }) => steps)
    .filter((step): step is Extract<Step, { do: K }> => step.do === kind);

describe('dryRun', () => {
  it('is a document of its schema, the same to the byte when made again, and leaves the plan alone', () => {
    const before = canonicalText(plan);
    expect(dryRunSchema.safeParse(dry).error).toBeUndefined();
    expect(canonicalText(dryRun(plan))).toBe(canonicalText(dry));
    expect(canonicalText(plan)).toBe(before);
  });

  it('has every step but tacks and what asks after them, under the number of the plan', () => {
    dry.programs.forEach(({ robot, steps }, p) => {
      const whole = plan.programs[p]!;
      expect(robot).toBe(whole.robot);
      const kept = whole.steps.filter((step) => !['wire-check', 'accept', 'cool'].includes(step.do));
      expect(steps.map(({ n }) => n)).toEqual(kept.map(({ n }) => n));
      expect(steps.map((step) => step.do)).toEqual(
        kept.map((step) => (step.do === 'tack' ? 'move' : step.do)),
      );
    });
  });

  it('has no arc: a tack is a straight move of the torch along its seam at a quarter of its speed', () => {
    const [tack] = planned('tack');
    const steps = dry.programs.flatMap((program) => program.steps.filter(({ n }) => n === tack!.n));
    const move = steps.find((step) => step.do === 'move' && step.tool === tack!.tool);
    expect(move).toMatchObject({
      ...{ do: 'move', path: 'straight', to: tack!.to, pose: tack!.pose, frame: 'weldment' },
      ...{ speed: tack!.arc.speed / 4, place: `end of ${tack!.tack}, without arc` },
    });
    expect(JSON.stringify(dry.programs)).not.toMatch(/"arc"|current|voltage/);
  });

  it('is slower by the factor that is asked for, and waits longer by it', () => {
    const half = dryRun(plan, { speed: 0.5 });
    const speeds = (programs: DryRun['programs']): number[] =>
      programs.flatMap(({ steps }) => steps.flatMap((step) => (step.do === 'move' ? [step.speed] : [])));
    expect(speeds(half.programs)).toEqual(speeds(dry.programs).map((speed) => speed * 2));
    expect(half.handshakes[0]!.timeLimit).toBe(plan.handshakes[0]!.timeLimit * 2);
    for (const speed of [0, 1.5, NaN])
      expect(() => dryRun(plan, { speed })).toThrow('must be more than 0 and at most 1');
  });

  it('stops before everything that would let an untacked part go', () => {
    const held = planned('hold').map(({ part }) => part);
    expect(held).toEqual(['wall', 'rib']);
    // Each is pulled at first, and is secured by then.
    expect(dry.stops).toEqual(
      planned('proof-pull').map(({ n, part }) => ({
        ...{ robot: 'handler', step: n },
        why: `${part} is not tacked: secure it before it is pulled at`,
      })),
    );
    expect(dry.cautions[0]).toContain('No tack is laid');
    expect(dry.cautions.slice(1)).toEqual(plan.cautions);
  });
});
