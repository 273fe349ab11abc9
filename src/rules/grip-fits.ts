import { roomOnFace } from '../geometry/face-rim.js';
import { place } from '../geometry/pose.js';
import { distance } from '../geometry/vector.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Gripper } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { faceOf, flatFaces } from '../model/part-geometry.js';
import { gripFlange, padFrame, type GripPlace } from '../model/placement.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlingViews, stageViews, type HandlingView, type StageView } from './stage-views.js';

const ID = 'grip-fits';

/** Positions of grips are rounded, mm; turns, radians. */
const ROUNDING = { mm: 0.01, radians: 1e-4 } as const;

/** Pads whose disc is not wholly on the face, clear of its edges and holes. */
function padFindings({ placed }: StageView, { grip, gripper, where }: HandlingView): Finding[] {
  const { shape, id } = placed.part;
  const face = faceOf(shape, grip.face)!;
  const frame = padFrame(shape, grip);
  const radius = gripper.padDiameter / 2;
  return gripper.pads.flatMap(([x, y], i) => {
    const centre = place(frame, [x, y, 0]);
    if (roomOnFace(face, centre) >= radius - ROUNDING.mm) return [];
    const message = `pad ${i + 1} of ${gripper.id}, radius ${shown(radius)} mm, is not wholly on ${grip.face} of ${id}`;
    return [breach(ID, `${where}.grip`, message)];
  });
}

/** Mass in kg and static moment about the flange in N mm, against what the arm may carry. */
function payloadFindings({ cell }: RuleContext, view: StageView, one: HandlingView): Finding[] {
  const { part, pose, mass, solid } = view.placed;
  const { payload, id } = cell.handler;
  const { gripper, grip, where } = one;
  const flange = gripFlange(part.shape, pose, grip, gripper).at;
  const moment =
    STANDARD_GRAVITY * (mass * distance(flange, solid.centre) + (gripper.mass * gripper.reach) / 2);
  const together = mass + gripper.mass;
  const findings: Finding[] = [];
  const compare = (what: string, unit: string, value: number, limit: number): void => {
    if (value <= limit) return;
    const message = `${part.id} with ${gripper.id} is a ${what} of ${shown(value)} ${unit}; ${id} carries ${shown(limit)}`;
    findings.push(breach(ID, `${where}.grip`, message, { value, limit }));
  };
  compare('mass', 'kg', together, payload.mass);
  compare('moment', 'N mm', moment, payload.moment);
  return findings;
}

const sameGrip = (
  one: GripPlace,
  gripper: Gripper,
  other: GripPlace & { readonly gripper: string },
): boolean =>
  other.gripper === gripper.id &&
  other.face === one.face &&
  other.position.every((value, i) => Math.abs(value - one.position[i]!) <= ROUNDING.mm) &&
  Math.abs(Math.sin((other.turn - one.turn) / 2)) <= ROUNDING.radians;

function choiceFindings({ placed }: StageView, { grip, gripper, where }: HandlingView): Finding[] {
  const { part } = placed;
  const findings: Finding[] = [];
  if (part.material.magnetic <= 0)
    findings.push(
      breach(ID, `${where}.grip`, `${part.material.name} of ${part.id} is not magnetic`, { value: 0 }),
    );
  if (part.grips !== undefined && !part.grips.some((given) => sameGrip(grip, gripper, given)))
    findings.push(
      breach(ID, `${where}.grip`, `the grip is none of the ${part.grips.length} given for ${part.id}`),
    );
  return findings;
}

function judge(context: RuleContext): Finding[] {
  const { cell, plan } = context;
  const unknown = plan.stages.flatMap((stage, i) =>
    stage.handling.flatMap(({ grip }, h) =>
      cell.grippers.some(({ id }) => id === grip.gripper)
        ? []
        : [
            breach(
              ID,
              `stages[${i}].handling[${h}].grip.gripper`,
              `gripper ${grip.gripper} is not in the cell`,
            ),
          ],
    ),
  );
  const faceless = stageViews(context).flatMap(({ stage, placed, where }) =>
    stage.handling.flatMap(({ grip }, h) =>
      flatFaces(placed.part.shape).some(({ id }) => id === grip.face)
        ? []
        : [breach(ID, `${where}.handling[${h}].grip.face`, `${stage.part} has no flat face "${grip.face}"`)],
    ),
  );
  const fits = stageViews(context).flatMap((view) =>
    handlingViews(context, view).flatMap((one) => [
      ...choiceFindings(view, one),
      ...padFindings(view, one),
      ...payloadFindings(context, view, one),
    ]),
  );
  return [...unknown, ...faceless, ...fits];
}

/** Every grip has its pads on the face, on a magnetic part, within what the arm may carry. */
export const gripFits: Rule = {
  id: ID,
  forbids: 'pads over an edge, a part no magnet takes, and a load beyond the mass or moment of the arm',
  why: 'pull and payload are stated for whole pads on flat steel and for limits that the maker of the arm set',
  judge,
};
