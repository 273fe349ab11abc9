import { polygonContains } from '../geometry/polygon.js';
import { place } from '../geometry/pose.js';
import { distance } from '../geometry/vector.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Gripper } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { shapeSolid } from '../model/part-geometry.js';
import { gripFlange, padFrame, type GripPlace } from '../model/placement.js';
import type { PlacedPart } from '../model/scene.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlingViews, otherHolder, stageViews, type HandlingView, type StageView } from './stage-views.js';

const ID = 'grip-fits';

/** Positions of grips are rounded, mm; turns, radians. */
const ROUNDING = { mm: 0.01, radians: 1e-4 } as const;

/** Pads whose disc is not wholly on one polygon of the face. */
/** A grip on a part, and where the plan states it. */
interface PartGrip {
  readonly where: string;
  readonly placed: PlacedPart;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
}

function padFindings({ placed, grip, gripper, where }: PartGrip): Finding[] {
  const { shape, id } = placed.part;
  const face = shapeSolid(shape).faces.find((one) => one.id === grip.face);
  const frame = padFrame(shape, grip);
  const radius = gripper.padDiameter / 2;
  return gripper.pads.flatMap(([x, y], i) => {
    const centre = place(frame, [x, y, 0]);
    const on = face?.polygons.some((polygon) =>
      polygonContains(polygon, face.normal, centre, ROUNDING.mm - radius),
    );
    if (on) return [];
    const message = `pad ${i + 1} of ${gripper.id}, radius ${shown(radius)} mm, is not wholly on ${grip.face} of ${id}`;
    return [breach(ID, `${where}.grip`, message)];
  });
}

/** Mass in kg and static moment about the flange in N mm, against what the arm may carry. */
function payloadFindings(view: StageView, one: HandlingView): Finding[] {
  const { part, pose, mass, solid } = view.placed;
  const { payload, id } = one.robot;
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

function choiceFindings({ placed, grip, gripper, where }: PartGrip): Finding[] {
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
  const unknown = plan.stages.flatMap(({ handling, alsoHeld }, i) => {
    const named = handling.map(({ grip }, h) => ({
      grip,
      where: `stages[${i}].handling[${h}].grip.gripper`,
    }));
    const other = alsoHeld ? [{ grip: alsoHeld.grip, where: `stages[${i}].alsoHeld.grip.gripper` }] : [];
    return [...named, ...other]
      .filter(({ grip }) => !cell.grippers.some(({ id }) => id === grip.gripper))
      .map(({ grip, where }) => breach(ID, where, `gripper ${grip.gripper} is not in the cell`));
  });
  const fits = stageViews(context).flatMap((view) => {
    const { placed } = view;
    const own = handlingViews(context, view);
    const other = otherHolder(context, view);
    const grips = [...own.map((one) => ({ ...one, placed })), ...(other ? [other] : [])];
    return [
      ...grips.flatMap((one) => [...choiceFindings(one), ...padFindings(one)]),
      ...own.flatMap((one) => payloadFindings(view, one)),
    ];
  });
  return [...unknown, ...fits];
}

/** Every grip has its pads on the face, on a magnetic part, within what the arm may carry. */
export const gripFits: Rule = {
  id: ID,
  forbids: 'pads over an edge, a part no magnet takes, and a load beyond the mass or moment of the arm',
  why: 'pull and payload are stated for whole pads on flat steel and for limits that the maker of the arm set',
  judge,
};
