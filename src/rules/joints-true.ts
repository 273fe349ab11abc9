import { along, type Vec3 } from '../geometry/vector.js';
import { pointSolidDistance } from '../geometry/distance.js';
import type { Finding } from '../model/finding.js';
import { asMember } from '../model/group.js';
import type { PlanJoint } from '../model/plan.js';
import type { JointWish } from '../model/weldment.js';
import { angleBetween, direction } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces, type SeamPlace } from './seam-places.js';

const ID = 'joints-true';

/** Places along a seam that are looked at. */
const SAMPLES = 5;
/** Seams are written with rounded coordinates, mm. */
const ROUNDING = 0.01;
/** How far out of the seam, mm, and how much air is to be there. */
const OUT = { step: 1, air: 0.05 } as const;

const samePair = (a: readonly [string, string], b: readonly [string, string]): boolean =>
  (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);

/** The plan's joints against those of the weldment file: which are missing, which nobody asked for. */
function wishFindings(context: RuleContext, places: SeamPlaces): Finding[] {
  const { plan, weldment } = context;
  const wishes = weldment.joints;
  const origin = wishes === undefined ? 'proposed' : 'given';
  const findings: Finding[] = [];
  plan.joints.forEach((joint, i) => {
    const where = `joints[${i}]`;
    if (joint.origin !== origin)
      findings.push(breach(ID, `${where}.origin`, `joint ${joint.id} is ${origin}, not ${joint.origin}`));
    if (wishes !== undefined && !wishes.some(({ between }) => samePair(between, joint.between)))
      findings.push(
        breach(ID, where, `joint ${joint.id} of ${joint.between.join(' and ')} is not asked for`),
      );
  });
  for (const wish of wishes ?? [])
    findings.push(...oneWish(plan.joints, wish, (joint) => isOnMembers(context, places, joint, wish)));
  return findings;
}

/** Whether every seam of a joint of groups lies on the members that are to be joined; always where none is named. */
function isOnMembers(
  { scene, weldment }: RuleContext,
  places: SeamPlaces,
  joint: PlanJoint,
  { between, members }: JointWish,
): boolean {
  if (members === undefined) return true;
  const seams = places.all().filter((seam) => seam.joint === joint);
  return between.every((id, i) => {
    const part = scene.index.get(id);
    if (part === undefined) return true;
    const { solid } = asMember(scene.parts[part]!, members[i]);
    return seams.every(
      ({ from, along: way, length: size }) =>
        pointSolidDistance(along(from, way, size / 2), solid) <= weldment.fitUp.gap + ROUNDING,
    );
  });
}

function oneWish(
  joints: readonly PlanJoint[],
  wish: JointWish,
  isOn: (joint: PlanJoint) => boolean,
): Finding[] {
  const { members } = wish;
  const pair = wish.between.map((id, i) => (members?.[i] ? `${members[i]} of ${id}` : id)).join(' and ');
  const i = joints.findIndex(
    (joint) =>
      samePair(joint.between, wish.between) &&
      joint.type === wish.type &&
      joint.leg === wish.leg &&
      isOn(joint),
  );
  if (i < 0)
    return [
      breach(ID, 'joints', `the ${wish.type} joint of ${pair} with leg ${shown(wish.leg)} mm is missing`),
    ];
  const open = wish.open && direction(wish.open);
  if (wish.sides !== 'one' || open === undefined) return [];
  return joints[i]!.seams.flatMap((seam, s) => {
    const out = direction(seam.open);
    if (out === undefined || angleBetween(out, open) < 90) return [];
    const message = `seam ${seam.id} opens away from the side that ${pair} shall be welded on`;
    return [
      breach(ID, `joints[${i}].seams[${s}].open`, message, { value: angleBetween(out, open), limit: 90 }),
    ];
  });
}

/** Names: joints and seams once each, parts known, a seam to weld. */
function nameFindings({ plan, scene }: RuleContext): Finding[] {
  const seen = new Set<string>();
  const findings: Finding[] = [];
  const once = (kind: string, id: string, where: string): void => {
    if (seen.has(`${kind} ${id}`)) findings.push(breach(ID, where, `${kind} ${id} is there twice`));
    seen.add(`${kind} ${id}`);
  };
  plan.joints.forEach((joint, i) => {
    const where = `joints[${i}]`;
    once('joint', joint.id, `${where}.id`);
    joint.seams.forEach(({ id }, s) => once('seam', id, `${where}.seams[${s}].id`));
    for (const part of joint.between)
      if (!scene.index.has(part))
        findings.push(
          breach(ID, `${where}.between`, `part ${part} of joint ${joint.id} is not in the weldment`),
        );
    if (joint.between[0] === joint.between[1])
      findings.push(breach(ID, `${where}.between`, `joint ${joint.id} joins ${joint.between[0]} to itself`));
    if (joint.seams.length === 0)
      findings.push(breach(ID, `${where}.seams`, `joint ${joint.id} has no seam`, { value: 0, limit: 1 }));
  });
  return findings;
}

/** A seam against the placed solids: on both parts, and open where it says so. One finding of each kind at most. */
function placeFindings({ scene, weldment }: RuleContext, seam: SeamPlace, where: string): Finding[] {
  const findings: Finding[] = [];
  const limit = weldment.fitUp.gap;
  const points = Array.from({ length: SAMPLES }, (_, i) =>
    along(seam.from, seam.along, (seam.length * i) / (SAMPLES - 1)),
  );
  for (const index of [seam.a, seam.b]) {
    const { part, solid } = scene.parts[index]!;
    const far = Math.max(...points.map((point) => pointSolidDistance(point, solid)));
    if (!(far <= limit + ROUNDING))
      findings.push(
        breach(
          ID,
          where,
          `seam ${seam.id} is ${shown(far)} mm off ${part.id}; the fit-up gap is ${shown(limit)}`,
          {
            value: far,
            limit,
          },
        ),
      );
    // The ends may meet a third part, so air is asked for between them only.
    const out = points.slice(1, -1).map((point): Vec3 => along(point, seam.open, OUT.step));
    const air = Math.min(...out.map((point) => pointSolidDistance(point, solid)));
    if (!(air > OUT.air))
      findings.push(
        breach(ID, `${where}.open`, `seam ${seam.id} does not open into the air but into ${part.id}`, {
          value: air,
          limit: OUT.air,
        }),
      );
  }
  return findings;
}

function judge(context: RuleContext): Finding[] {
  const places = new SeamPlaces(context);
  const seams = context.plan.joints.flatMap((joint, i) =>
    joint.seams.flatMap(({ id, from, to, open }, s) => {
      const where = `joints[${i}].seams[${s}]`;
      if (!joint.between.every((part) => context.scene.index.has(part))) return [];
      if (direction([to[0] - from[0], to[1] - from[1], to[2] - from[2]]) === undefined)
        return [breach(ID, where, `seam ${id} has no length`, { value: 0 })];
      if (direction(open) === undefined) return [breach(ID, `${where}.open`, `seam ${id} opens nowhere`)];
      const place = places.all().find((seam) => seam.joint === joint && seam.id === id);
      return place === undefined ? [] : placeFindings(context, place, where);
    }),
  );
  return [...nameFindings(context), ...wishFindings(context, places), ...seams];
}

/** The joints are those of the weldment file, and every seam lies where both its parts meet and opens into the air. */
export const jointsTrue: Rule = {
  id: ID,
  forbids: 'joints that are missing, unasked for or altered, and seams that are not on both their parts',
  why: 'tacks are placed on seams; a seam that is not there cannot be tacked',
  judge,
};
