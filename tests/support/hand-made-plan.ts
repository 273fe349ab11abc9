import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { GeometricPlan, PlanGrip } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { unpredicted, withDistortion } from '../../src/planning/distortion.js';
import { judgedAccuracy } from '../../src/rules/judged-accuracy.js';
import { judgedReserves } from '../../src/rules/judged-reserves.js';
import { carriedOnTheWay } from '../../src/rules/grip-carries.js';
import { exploredWitness } from '../../src/rules/run-witness.js';
import { powerLossOf } from '../../src/rules/power-loss.js';
import type { RuleContext } from '../../src/rules/rule.js';
import { handlingViews, holdersOf, stageViews } from '../../src/rules/stage-views.js';
import { bareHandshakeSet } from './bare-plan.js';
import { withFaults } from '../../src/session/plan.js';
import { testCell } from './cell.js';
import { ProgramMaker } from './program-maker.js';
import { rounded, StageMaker, type StageChoice } from './stage-maker.js';
import { standJoints, standWeldment } from './stand-weldment.js';
import { withTackOrders } from './tack-orders.js';

const HEAD = { format: 'tackwright-plan', version: 1, kind: 'geometric' } as const;

/** A whole plan from choices made by hand; reserves are left empty. */
function planOf(maker: StageMaker, choices: readonly StageChoice[]): GeometricPlan {
  const stages = choices.map((choice, i) => maker.stage(choice, i));
  const { programs, frames, handshakes } = new ProgramMaker(maker.cell).programs(stages);
  const makespan = Math.max(...programs.map(({ steps }) => steps.at(-1)!.end));
  const changes = programs
    .flatMap(({ steps }) => steps)
    .filter((step) => step.do === 'change-gripper').length;
  const values = {
    regrips: stages.reduce((sum, { handling }) => sum + handling.length - 1, 0),
    'tool-changes': changes,
    distortion: 0,
    time: Math.ceil(makespan * 10 - 1e-6),
    wishes: 0,
  };
  return {
    ...HEAD,
    weldment: { name: maker.weldment.name, digest: '' },
    cell: { name: maker.cell.name, digest: '' },
    settings: maker.settings,
    objective: maker.settings.objective.map((term) => ({
      term,
      value: values[term],
      bound: term === 'time' ? Math.floor(values.time / 2) : values[term],
    })),
    proof: {
      outcome: 'feasible',
      scope: { parts: stages.length, approaches: 3, grips: 3, rests: 3, sites: 9 },
      ...{ provedTerms: ['regrips', 'tool-changes'], bestOf: 1, states: 3, policies: [], notChecked: [] },
    },
    ...{
      rulesNotApplied: [],
      warnings: [],
      cautions: [],
      joints: standJoints(),
      stages,
      frames,
      handshakes,
      handshakeSet: { ...bareHandshakeSet(handshakes.length), minimality: 'transitive' as const },
      programs,
    },
    timeline: {
      makespan,
      bound: 0,
      choices: 0,
      activities: [{ robot: 'handler', stage: 1, what: 'all', start: 0, end: makespan, critical: true }],
    },
    distortion: unpredicted(maker.settings),
    safety: {
      properties: [],
      witness: { robots: 0, states: 0, complete: false, reduction: 'none' },
      faults: [],
      faultRows: 0,
      dropZones: [],
      notCovered: 'faults',
    },
  };
}

export function contextOf(
  plan: GeometricPlan,
  programs: LinearPrograms,
  weldment = standWeldment(),
  cell = testCell(),
): RuleContext {
  return {
    weldment,
    cell,
    plan,
    settings: plan.settings,
    scene: buildScene(weldment, cell, plan.settings),
    programs,
  };
}

const DOWN: Vec3 = [0, 0, -1];
const grip = (gripper: string, position: [number, number]): PlanGrip => ({
  gripper,
  face: '+z',
  position,
  turn: 0,
});

/** Base, wall, rib: each brought from above; the rib by way of the regrip table. */
export const standChoices = (): StageChoice[] => [
  { part: 'base', grip: grip('single', [0, 0]), rest: '-z', direction: DOWN, distance: 80, tacks: [] },
  {
    ...{ part: 'wall', grip: grip('wide', [0, -35]), rest: '-z', direction: DOWN, distance: 80 },
    tacks: [
      { seam: 'J1.1', start: 10, lean: 0, phase: 'securing' },
      { seam: 'J1.2', start: 250, lean: -15, phase: 'securing' },
      { seam: 'J1.1', start: 250, lean: 0, phase: 'completing' },
      { seam: 'J1.2', start: 10, lean: 0, phase: 'completing', again: 90 },
    ],
  },
  {
    ...{
      part: 'rib',
      grip: grip('single', [35, 30]),
      rest: '-z',
      regripYaw: 90,
      direction: DOWN,
      distance: 160,
    },
    tacks: [
      { seam: 'J2.1', start: 90, lean: 0, phase: 'securing' },
      { seam: 'J3.1', start: 70, lean: 0, phase: 'securing' },
      { seam: 'J2.1', start: 10, lean: -15, phase: 'completing' },
      { seam: 'J3.1', start: 10, lean: -15, phase: 'completing' },
    ],
  },
];

/** The stand's plan with the reserves that its own states have; no two places share an object, as when read. */
export function handMadePlan(
  programs: LinearPrograms,
  choices = standChoices(),
  cell = testCell(),
): GeometricPlan {
  const maker = new StageMaker(standWeldment(), cell, DEFAULT_SETTINGS);
  const plan = planOf(maker, choices);
  const context = contextOf(plan, programs, maker.weldment, cell);
  plan.safety.witness = exploredWitness(plan);
  for (const { view, stated } of judgedAccuracy(context)) plan.stages[view.index]!.accuracy = [...stated];
  const judged = judgedReserves(context);
  for (const view of stageViews(context)) {
    const stage = plan.stages[view.index]!;
    stage.powerLoss = holdersOf(context, view).map((held) => powerLossOf(context.scene, held));
    handlingViews(context, view).forEach((one, i) => {
      const { reserve, ...rest } = carriedOnTheWay(context, view, one)!;
      stage.handling[i]!.carried = { ...rest, reserve: rounded(reserve, 4) };
    });
  }
  plan.stages.forEach((stage, i) => {
    stage.reserves = judged
      .filter(({ stage: view }) => view.index === i)
      .map(({ state, name, required, reserve }) => ({
        ...{ state, case: name, required, reserve: rounded(reserve, 4), weakest: '' },
      }));
  });
  return JSON.parse(
    JSON.stringify(withFaults(withTackOrders(withDistortion(plan, context), context), context)),
  ) as GeometricPlan;
}
