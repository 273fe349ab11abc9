import { everyTack } from '../../../../rules/stage-tacks.js';
import type { GeometricContext } from '../../page-context.js';
import type { PageDetail, Pick } from '../../page-data.js';
import type { RobotProgram } from '../robot-program.js';
import { handshakeDetail } from './handshake-detail.js';
import { jointDetail } from './joint-detail.js';
import { partDetail } from './part-detail.js';
import { stageDetail, type TimedStage } from './stage-detail.js';
import { isTold, stepDetail } from './step-detail.js';
import { tackDetail } from './tack-detail.js';

type Told = readonly [Pick, PageDetail];

function tackDetails(
  context: GeometricContext,
  programs: readonly RobotProgram[],
  timed: readonly TimedStage[],
): readonly Told[] {
  const steps = new Map(
    programs.flatMap(({ steps: own }) =>
      own.flatMap((step) => (step.do === 'tack' ? [[step.tack, step] as const] : [])),
    ),
  );
  return timed.flatMap(({ view: { stage } }) =>
    everyTack(stage).map((tack): Told => [
      `tack:${stage.number}.${tack.order}`,
      tackDetail(context, stage, tack, steps.get(tack.id)),
    ]),
  );
}

/** What is shown of everything that can be picked, by its pick. */
export function pageDetails(
  context: GeometricContext,
  programs: readonly RobotProgram[],
  timed: readonly TimedStage[],
): Readonly<Record<string, PageDetail>> {
  const { plan, scene } = context;
  const byPart = new Map(timed.map((one) => [one.view.part, one]));
  const told: readonly Told[] = [
    ...scene.parts.map((_, i): Told => [`part:${i}`, partDetail(context, i, byPart.get(i))]),
    ...plan.joints.map((joint, i): Told => [`joint:${i}`, jointDetail(context, joint)]),
    ...timed.map((one): Told => [`stage:${one.view.stage.number}`, stageDetail(context, one)]),
    ...tackDetails(context, programs, timed),
    ...programs.flatMap(({ robot, who, steps }) =>
      steps
        .filter(isTold)
        .map((step): Told => [`step:${robot}.${step.n}`, stepDetail(context, who.id, step)]),
    ),
    ...plan.handshakes.map((one, i): Told => [`handshake:${i}`, handshakeDetail(plan, one)]),
  ];
  return Object.fromEntries(told);
}
