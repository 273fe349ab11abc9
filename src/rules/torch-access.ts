import type { ConvexPiece } from '../geometry/convex.js';
import { axisZ, translate, type Pose } from '../geometry/pose.js';
import { overlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { distance, length, negate, scale, subtract } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { torchCone, torchNeck } from '../model/placement.js';
import type { PlanTack } from '../model/plan.js';
import { angleBetween, POSE_TOLERANCE, poseMiss, poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces, type TackPlace } from './seam-places.js';
import { grippersOf, holdersOf, stageViews, type StageView } from './stage-views.js';

const ID = 'torch-access';

/** Greatest angle between the wire and the bisector of the seam's open side, degrees. */
export const TORCH_WINDOW = 25;
const ANGLE_ROUNDING = 0.05;

interface Obstacle {
  readonly name: string;
  readonly solid: Solid;
}

/** The stated wire tips: at the two ends of the tack, turned alike, the wire inside its window. */
function tipFindings(tack: PlanTack, place: TackPlace, where: string): Finding[] {
  const [start, end] = [poseOf(tack.torch.start), poseOf(tack.torch.end)];
  const findings: Finding[] = [];
  for (const [name, pose, point] of [
    ['start', start, place.start],
    ['end', end, place.end],
  ] as const) {
    const off = distance(pose.at, point);
    if (off > POSE_TOLERANCE.mm)
      findings.push(
        breach(
          ID,
          `${where}.${name}`,
          `the wire tip is ${shown(off)} mm off the ${name} of tack ${tack.id}`,
          {
            value: off,
            limit: POSE_TOLERANCE.mm,
          },
        ),
      );
  }
  const turned = poseMiss({ at: start.at, turn: end.turn }, start).degrees;
  if (turned > POSE_TOLERANCE.degrees)
    findings.push(
      breach(ID, `${where}.end`, `the torch turns by ${shown(turned)} degrees along tack ${tack.id}`, {
        value: turned,
        limit: 0,
      }),
    );
  const angle = angleBetween(axisZ(start.turn), negate(place.seam.open));
  if (angle > TORCH_WINDOW + ANGLE_ROUNDING)
    findings.push(
      breach(
        ID,
        `${where}.start`,
        `the wire of tack ${tack.id} is ${shown(angle)} degrees off the bisector; at most ${TORCH_WINDOW}`,
        { value: angle, limit: TORCH_WINDOW },
      ),
    );
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
  const { torch } = context.cell.welder;
  const pieces = sampledTips(tack, stroke).flatMap((tip) => [torchCone(tip, torch), torchNeck(tip, torch)]);
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
      return [...tipFindings(tack, place, where), ...spaceFindings(context, view, tack, where)];
    }),
  );
}

/** The torch stands at both ends of each tack, wire near the bisector, and is free of all that is there on its way. */
export const torchAccess: Rule = {
  id: ID,
  forbids:
    'wire tips off their tack, torches out of their window, or in a part, the gripper, the table or a keep-out',
  why: 'a tack that the torch cannot reach is not laid, and a torch that hits moves the part',
  judge,
};
