import type { ConvexPiece } from '../geometry/convex.js';
import { axisZ, translate, type Pose } from '../geometry/pose.js';
import { overlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { distance, length, scale, subtract } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { welderNamed } from '../model/cell.js';
import { torchNeck, torchPieces } from '../model/placement.js';
import type { PlanTack } from '../model/plan.js';
import { POSE_TOLERANCE, poseMiss, poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces, type TackPlace } from './seam-places.js';
import { grippersOf, holdersOf, stageViews, type StageView } from './stage-views.js';
import { torchAngles } from './torch-angles.js';

const ID = 'torch-access';

/** Stated turns are rounded, degrees. */
const ANGLE_ROUNDING = 0.05;

interface Obstacle {
  readonly name: string;
  readonly solid: Solid;
}

/** The stated wire tips: at the two ends of the tack, either first. */
function endFindings(tack: PlanTack, place: TackPlace, where: string): Finding[] {
  const [start, end] = [poseOf(tack.torch.start).at, poseOf(tack.torch.end).at];
  const backward = distance(start, place.end) < distance(start, place.start);
  const [first, last] = backward ? [place.end, place.start] : [place.start, place.end];
  return (
    [
      ['start', start, first],
      ['end', end, last],
    ] as const
  ).flatMap(([name, at, point]) => {
    const off = distance(at, point);
    if (off <= POSE_TOLERANCE.mm) return [];
    const message = `the wire tip is ${shown(off)} mm off the ${name} of tack ${tack.id}`;
    return [breach(ID, `${where}.${name}`, message, { value: off, limit: POSE_TOLERANCE.mm })];
  });
}

/** The torch is turned alike at both ends, and inside each of its two windows. */
function turnFindings(
  { settings }: RuleContext,
  tack: PlanTack,
  { seam }: TackPlace,
  where: string,
): Finding[] {
  const [start, end] = [poseOf(tack.torch.start), poseOf(tack.torch.end)];
  const findings: Finding[] = [];
  const turned = poseMiss({ at: start.at, turn: end.turn }, start).degrees;
  if (turned > POSE_TOLERANCE.degrees) {
    const message = `the torch turns by ${shown(turned)} degrees along tack ${tack.id}`;
    findings.push(breach(ID, `${where}.end`, message, { value: turned, limit: 0 }));
  }
  const angles = torchAngles(axisZ(start.turn), seam.along, seam.open);
  for (const name of ['work', 'travel'] as const) {
    const [value, limit] = [Math.abs(angles[name]), settings.torch[`${name}-angle`]];
    if (value <= limit + ANGLE_ROUNDING) continue;
    const message = `the ${name} angle of tack ${tack.id} is ${shown(value)} degrees; at most ${shown(limit)}`;
    findings.push(breach(ID, `${where}.start`, message, { value, limit }));
  }
  return findings;
}

const meets = (piece: ConvexPiece, solid: Solid, tolerance: number): boolean =>
  solid.pieces.some((other) => overlap(piece, other, tolerance));

/** Distance between two places of the torch that are looked at along its strokes, mm. */
const SAMPLE_STEP = 5;

/** Tips at which the torch is looked at: along the tack, and drawn back by the stroke at both ends of it. */
function sampledTips(tack: PlanTack, stroke: number): readonly Pose[] {
  const [start, end] = [poseOf(tack.torch.start), poseOf(tack.torch.end)];
  const seam = subtract(end.at, start.at);
  const back = scale(axisZ(start.turn), -stroke);
  const steps = (size: number): number[] => {
    const count = Math.min(200, Math.max(1, Math.ceil(size / SAMPLE_STEP)));
    return Array.from({ length: count + 1 }, (_, i) => i / count);
  };
  return [
    ...steps(length(seam)).flatMap((share) => {
      const tip = translate(start, scale(seam, share));
      return [tip, translate(tip, back)];
    }),
    ...steps(stroke).flatMap((share) => [start, end].map((tip) => translate(tip, scale(back, share)))),
  ];
}

/** What the torch may not enter while this tack is laid. */
function obstaclesOf(context: RuleContext, view: StageView, tack: PlanTack): readonly Obstacle[] {
  const { scene } = view;
  const holding = tack.phase === 'securing' ? holdersOf(context, view) : [];
  return [
    ...[...view.before, view.part].map((i) => ({
      name: scene.parts[i]!.part.id,
      solid: scene.parts[i]!.solid,
    })),
    { name: 'the table', solid: scene.table },
    ...scene.keepOuts.map((solid, i) => ({ name: `keep-out ${i + 1}`, solid })),
    ...grippersOf(holding),
  ];
}

function spaceFindings(context: RuleContext, view: StageView, tack: PlanTack, where: string): Finding[] {
  const { 'touch-tolerance': tolerance, 'torch-stroke': stroke } = context.settings.motion;
  const torch = welderNamed(context.cell, tack.robot)?.torch;
  if (torch === undefined) return [];
  const pieces = sampledTips(tack, stroke).flatMap((tip) => [
    ...torchPieces(tip, torch),
    torchNeck(tip, torch),
  ]);
  return obstaclesOf(context, view, tack)
    .filter(({ solid }) => pieces.some((piece) => meets(piece, solid, tolerance)))
    .map(({ name }) =>
      breach(
        ID,
        where,
        `the torch reaches into ${name} while tack ${tack.id} is laid, or on its way to or from it`,
      ),
    );
}

function judge(context: RuleContext): Finding[] {
  const seams = new SeamPlaces(context);
  return stageViews(context).flatMap((view) =>
    view.stage.tacks.flatMap((tack, i) => {
      const place = seams.tack(tack);
      if (place === undefined) return [];
      const where = `${view.where}.tacks[${i}].torch`;
      return [
        ...endFindings(tack, place, where),
        ...turnFindings(context, tack, place, where),
        ...spaceFindings(context, view, tack, where),
      ];
    }),
  );
}

/** The torch stands at both ends of each tack, inside its two windows, and is free of all that is there on its way. */
export const torchAccess: Rule = {
  id: ID,
  forbids:
    'wire tips off their tack, torches beyond their work or travel angle, or in a part, the gripper, the table or a keep-out',
  why: 'a tack that the torch cannot reach is not laid, and a torch that hits moves the part',
  judge,
};
