import { readFileSync } from 'node:fs';
import { stringify } from 'yaml';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan, PlanTack } from '../../src/model/plan.js';
import { NO_STAGE_DISTORTION, unpredicted } from '../../src/planning/distortion.js';
import { statedJoint } from '../../src/planning/emit.js';
import { factsOf } from '../../src/planning/plan.js';
import { readInputs, type Sources } from '../../src/session/inputs.js';
import { barePlan, bareStage } from './bare-plan.js';

/** Where a tack is laid: its seam, its start, mm, its length when it is not 30 mm. */
export interface TackChoice {
  readonly seam: string;
  readonly start: number;
  readonly length?: number;
  /** Default: that of its joint. */
  readonly leg?: number;
}

const STILL = [0, 0, 0, 0, 0, 0] as const;
const NOWHERE = { at: [0, 0, 0], turn: [0, 0, 0] } as const;
const POSED = { start: NOWHERE, end: NOWHERE, clear: STILL, joints: STILL, jointsEnd: STILL, leave: STILL };

/** Files of a weldment of our own on the bench of the stories. */
export const benchSources = (weldment: Readonly<Record<string, unknown>>): Sources => ({
  weldment: { text: stringify({ units: 'mm kg N s deg', ...weldment }), name: 'weldment.yaml' },
  cell: {
    text: readFileSync(new URL('../stories/bench.cell.yaml', import.meta.url), 'utf8'),
    name: 'cell.yaml',
  },
});

/**
 * A plan that says no more than which parts join one after the other, held by nobody, and which tacks are laid: enough
 * for a replay of its distortion, and for no robot. `stages` are parts with their tacks.
 */
export function tackedPlan(
  sources: Sources,
  programs: LinearPrograms,
  stages: readonly (readonly [part: string, ...tacks: readonly TackChoice[]])[],
): GeometricPlan {
  const { inputs, issues } = readInputs(sources);
  if (inputs?.weldment.kind !== 'geometric') throw new Error(JSON.stringify(issues));
  const { weldment, cell, settings } = inputs;
  const facts = factsOf(weldment, cell!, settings, programs);
  const plan = {
    ...barePlan(),
    weldment: { name: weldment.name, digest: inputs.weldmentDigest },
    cell: { name: cell!.name, digest: inputs.cellDigest },
    joints: facts.joints.map((joint) => statedJoint(facts, joint)),
    stages: stages.map(([part, ...tacks], i) => ({
      ...bareStage(part, i),
      tacks: tacks.map((tack, n) => statedTack(tack, n + 1, facts.joints)),
      distortion: NO_STAGE_DISTORTION,
    })),
    settings,
    distortion: unpredicted(settings),
  };
  return JSON.parse(JSON.stringify(plan)) as GeometricPlan;
}

function statedTack(
  { seam, start, length = 30, leg }: TackChoice,
  order: number,
  joints: readonly {
    readonly id: string;
    readonly leg: number;
    readonly seams: readonly { readonly id: string }[];
  }[],
): PlanTack {
  const joint = joints.find(({ seams }) => seams.some(({ id }) => id === seam));
  if (joint === undefined) throw new Error(`no seam ${seam}`);
  return {
    ...{
      id: `${seam}@${start}`,
      robot: 'welder',
      joint: joint.id,
      seam,
      start,
      length,
      leg: leg ?? joint.leg,
      order,
    },
    ...{ phase: 'securing', strength: 1, position: 'PB' },
    ...{ codeStrength: 0, codeReason: 'too-short', effectiveLength: 1 },
    hot: { seconds: 1, temperature: 20, factor: 1 },
    torch: structuredClone(POSED) as unknown as PlanTack['torch'],
  };
}
