import { roomOnFace } from '../geometry/face-rim.js';
import { place } from '../geometry/pose.js';
import { gradeLimit } from '../mechanics/pads.js';
import type { Finding } from '../model/finding.js';
import { hasGroup, padsInUse, type FlatGripper, type Gripper } from '../model/gripper.js';
import { faceOf, flatFaces } from '../model/part-geometry.js';
import { padFrame, type GripPlace } from '../model/placement.js';
import { jawFindings } from './jaw-fits.js';
import type { PartGrip } from './part-grip.js';
import { payloadFindings } from './payload-fits.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlingViews, otherHolder, stageViews } from './stage-views.js';

const ID = 'grip-fits';

/** Positions of grips are rounded, mm; turns, radians. */
const ROUNDING = { mm: 0.01, radians: 1e-4 } as const;

/** Pads in use whose disc is not wholly on the face, clear of its edges and holes. */
function flatFindings({ placed, grip, where }: PartGrip, gripper: FlatGripper): Finding[] {
  const { shape, id } = placed.part;
  const face = faceOf(shape, grip.face)!;
  const frame = padFrame(shape, grip);
  const radius = gripper.padDiameter / 2;
  return padsInUse(gripper, grip.group).flatMap(([x, y], i) => {
    const centre = place(frame, [x, y, 0]);
    if (roomOnFace(face, centre) >= radius - ROUNDING.mm) return [];
    const message = `pad ${i + 1} of ${gripper.id}, radius ${shown(radius)} mm, is not wholly on ${grip.face} of ${id}`;
    return [breach(ID, `${where}.grip`, message)];
  });
}

const sameGrip = (
  one: GripPlace,
  gripper: Gripper,
  other: GripPlace & { readonly gripper: string },
): boolean =>
  other.gripper === gripper.id &&
  other.face === one.face &&
  other.group === one.group &&
  other.position.every((value, i) => Math.abs(value - one.position[i]!) <= ROUNDING.mm) &&
  Math.abs(Math.sin((other.turn - one.turn) / 2)) <= ROUNDING.radians;

function choiceFindings({ placed, grip, gripper, where }: PartGrip): Finding[] {
  const { part } = placed;
  const findings: Finding[] = [];
  if (gripper.kind === 'magnet' && part.material.magnetic <= 0)
    findings.push(
      breach(ID, `${where}.grip`, `${part.material.name} of ${part.id} is not magnetic`, { value: 0 }),
    );
  if (gripper.kind === 'magnet' && gripper.temperature > gradeLimit(gripper.grade)) {
    const [value, limit] = [gripper.temperature, gradeLimit(gripper.grade)];
    const message = `${gripper.id} is at ${shown(value)} C; its grade ${gripper.grade} allows ${shown(limit)} C`;
    findings.push(breach(ID, `${where}.grip`, message, { value, limit }));
  }
  if (!hasGroup(gripper, grip.group))
    findings.push(
      breach(ID, `${where}.grip.group`, `${gripper.id} has no group of pads named ${grip.group!}`),
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
  const faceless = stageViews(context).flatMap(({ stage, placed, where }) =>
    stage.handling.flatMap(({ grip }, h) =>
      flatFaces(placed.part.shape).some(({ id }) => id === grip.face)
        ? []
        : [breach(ID, `${where}.handling[${h}].grip.face`, `${stage.part} has no flat face "${grip.face}"`)],
    ),
  );
  const fits = stageViews(context).flatMap((view) => {
    const { placed } = view;
    const own = handlingViews(context, view);
    const other = otherHolder(context, view);
    const grips: PartGrip[] = [...own.map((one) => ({ ...one, placed })), ...(other ? [other] : [])];
    return [
      ...grips.flatMap((one) => [
        ...choiceFindings(one),
        ...(one.gripper.kind === 'jaw' ? jawFindings(ID, one, one.gripper) : flatFindings(one, one.gripper)),
      ]),
      ...own.flatMap((one) => payloadFindings(ID, view, one)),
    ];
  });
  return [...unknown, ...faceless, ...fits];
}

/** Every grip has its pads on flat faces, its jaw within its stroke, and is within what magnet and arm can do. */
export const gripFits: Rule = {
  id: ID,
  forbids:
    'pads over an edge or hole, a part no magnet takes, a jaw beyond its stroke, and a load beyond the mass, moment or inertia of the arm',
  why: 'pull and payload are stated for whole pads on flat faces and for limits that the makers set',
  judge,
};
