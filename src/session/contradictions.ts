import { issueAt } from '../io/issue-at.js';
import type { SourceDocument } from '../io/document.js';
import { OVERLAP, partOverlaps } from '../io/part-overlaps.js';
import type { Path } from '../io/show.js';
import { noJoint } from '../io/wish-checks.js';
import { solidPenetration } from '../geometry/separation.js';
import { solidDistance } from '../geometry/distance.js';
import { facePatches } from '../geometry/patches.js';
import type { Solid } from '../geometry/solid.js';
import type { Facts } from '../facts/facts.js';
import { hasGroup, type Gripper } from '../model/gripper.js';
import type { Issue } from '../model/issue.js';
import type { Wisher } from '../model/wish.js';
import { faceFrame } from '../model/part-geometry.js';
import type { Refusal } from '../model/verdict.js';

interface Complaint {
  readonly path: Path;
  readonly code: string;
  readonly problem: string;
  readonly remedy: string;
}

const mm = (value: number): string => `${Math.round(value * 100) / 100} mm`;

/** Contradictions between what the files say and what their geometry gives, as issues with their lines. */
export function contradictions(facts: Facts, weldment: SourceDocument, withCell = true): readonly Issue[] {
  const complaints = [
    ...partOverlaps(facts.scene.parts.map(({ part: { id }, solid }) => ({ id, solid }))),
    ...jointMisses(facts),
    ...contactMisses(facts),
    ...standing(facts),
    ...(withCell ? [...unknownGrippers(facts), ...unfitPads(facts)] : []),
    ...unstableRests(facts),
    ...unweldable(facts),
    ...unjoined(facts),
  ];
  return complaints.map(({ path, code, problem, remedy }) =>
    issueAt(weldment, path, { code, severity: 'error', problem, remedy }),
  );
}

/** Tacks that are wished between parts that no contact joins, by the weldment file and by the settings. */
export function unjoinedWishes(
  { scene, joints }: Facts,
  {
    weldment,
    settings,
  }: { readonly weldment: SourceDocument; readonly settings: SourceDocument | undefined },
  given: Wisher,
): readonly Issue[] {
  const joined = (pair: readonly string[]): boolean =>
    joints.some(({ a, b }) => [a, b].every((part) => pair.includes(scene.parts[part]!.part.id)));
  const told = (document: SourceDocument, { wishes }: Wisher): readonly Issue[] =>
    (wishes ?? []).flatMap((wish, i) =>
      'tack' in wish && !joined(wish.tack) ? [noJoint(document, ['wishes', i, 'tack'], wish.tack)] : [],
    );
  return [...told(weldment, scene.weldment), ...(settings ? told(settings, given) : [])];
}

/** Parts that overlap are told of once, as that. */
const overlap = ({ scene }: Facts, ids: readonly string[]): boolean => {
  const [a, b] = ids.map((id) => scene.parts[scene.index.get(id)!]!.solid);
  return solidPenetration(a!, b!) > OVERLAP;
};

function jointMisses(facts: Facts): Complaint[] {
  const { scene } = facts;
  const misses = facts.jointMisses.filter(({ wish }) => !overlap(facts, wish.between));
  return misses.map(({ wish, at, why }) => {
    if (why === 'no-contact') {
      const { wide, ...apart } = notMeeting(scene, wish.between, 'joint');
      return { path: ['joints', at], code: wide ? 'joint-gap-too-wide' : 'joint-without-contact', ...apart };
    }
    return {
      path: ['joints', at],
      code: 'joint-without-seam',
      problem: `the contact of ${wish.between.join(' and ')} offers no seam for a ${wish.type} joint${wish.open ? ' that opens this way' : ''}`,
      remedy: 'see `tackwright inspect` for the seams there are; change `type`, `sides` or `open`',
    };
  });
}

function contactMisses(facts: Facts): Complaint[] {
  const { scene } = facts;
  return (scene.weldment.contacts ?? []).flatMap(([a, b], at) => {
    // Of a group contacts name members: they were judged when its parts were parts of the weldment.
    if (![a, b].every((id) => scene.index.has(id))) return [];
    const found = scene.contacts.some((c) =>
      [scene.parts[c.a]!.part.id, scene.parts[c.b]!.part.id].every((id) => id === a || id === b),
    );
    if (found || overlap(facts, [a, b])) return [];
    const { problem, remedy } = notMeeting(scene, [a, b], 'contact');
    return [{ path: ['contacts', at], code: 'contact-not-found', problem, remedy }];
  });
}

/** Up to so many times `fit-up.gap` it is proposed to allow a gap (our choice): a wider one is a slip of a place or a size. */
const MAY_BE_ALLOWED = 2;

/** Two parts that are said to meet and do not: by how much the gap between faces is too wide, or that no faces are opposed. */
function notMeeting(
  { parts, index, weldment }: Facts['scene'],
  between: readonly string[],
  what: 'joint' | 'contact',
): { readonly wide: boolean; readonly problem: string; readonly remedy: string } {
  const allowed = weldment.fitUp.gap;
  const [a, b] = between.map((id) => parts[index.get(id)!]!.solid) as [Solid, Solid];
  const names = between.join(' and ');
  const apart = solidDistance(a, b);
  const gaps = facePatches(a, b, apart + allowed).map(({ gap }) => gap);
  if (gaps.length === 0)
    return {
      wide: false,
      problem: `${names} are ${mm(apart)} apart and have no faces opposed within ${mm(allowed)}`,
      remedy: `correct \`at\`, \`turn\` or a size so that faces meet, or strike the ${what}`,
    };
  const gap = fine(Math.min(...gaps));
  const allow =
    gap <= MAY_BE_ALLOWED * allowed ? `, raise \`fit-up.gap\` to ${gap} if such a gap can be tacked,` : '';
  return {
    wide: true,
    problem: `the gap between ${names} is ${gap} mm, and at most ${fine(allowed)} mm is tacked (\`fit-up.gap\`)`,
    remedy: `move them together by ${fine(gap - allowed)} mm at least${allow} or strike the ${what}`,
  };
}

/** A length to a thousandth, so that a gap just over its limit is not shown as it. */
const fine = (value: number): number => Math.round(value * 1000) / 1000;

/** Parts below the table, and a weldment of which nothing stands on it. */
function standing({ scene }: Facts): Complaint[] {
  const top = scene.cell.table.pose.at[2];
  const below = scene.parts.flatMap(({ part, solid }) => {
    const depth = top - solid.bounds.low[2];
    if (depth <= OVERLAP) return [];
    return [
      {
        path: ['parts', part.id],
        code: 'part-below-table',
        problem: `${part.id} reaches ${mm(depth)} below the work table`,
        remedy: 'raise the weldment: its frame sits at `table.weldment-at` of the cell',
      },
    ];
  });
  if (below.length > 0 || scene.tableBearing.some((patches) => patches.length > 0)) return below;
  return [
    {
      path: ['parts'],
      code: 'nothing-on-table',
      problem: `no part stands on the work table at z = ${mm(top)}`,
      remedy:
        'lower the weldment, or set `table.weldment-at` of the cell, so that a flat face lies on the table',
    },
  ];
}

function unknownGrippers({ scene }: Facts): Complaint[] {
  const known = scene.cell.grippers.map(({ id }) => id);
  return scene.weldment.parts.flatMap(({ id, grips }) =>
    (grips ?? []).flatMap(({ gripper }, at) =>
      known.includes(gripper)
        ? []
        : [
            {
              path: ['parts', id, 'grips', at, 'gripper'],
              code: 'unknown-gripper',
              problem: `the cell has no gripper "${gripper}"`,
              remedy: `write one of ${known.join(', ')}`,
            },
          ],
    ),
  );
}

/** Given grips that ask for a group of pads that is not there, or for pads larger than the face that they sit on. */
function unfitPads({ scene }: Facts): Complaint[] {
  return scene.weldment.parts.flatMap(({ id, shape, grips }) =>
    (grips ?? []).flatMap(({ gripper: name, face, group }, at): Complaint[] => {
      const gripper = scene.cell.grippers.find((one) => one.id === name);
      if (gripper === undefined) return [];
      const path = ['parts', id, 'grips', at];
      if (!hasGroup(gripper, group)) return [unknownGroup(gripper, group!, [...path, 'group'])];
      if (gripper.kind === 'jaw') return [];
      const { halfU, halfV } = faceFrame(shape, face);
      if (gripper.padDiameter <= 2 * Math.min(halfU, halfV)) return [];
      const pads = `${gripper.kind === 'magnet' ? 'pads' : 'cups'} of ${mm(gripper.padDiameter)}`;
      return [
        {
          path,
          code: 'pads-larger-than-face',
          problem: `${pads} are larger than ${face} of ${id}, ${mm(2 * halfU)} by ${mm(2 * halfV)}`,
          remedy: 'name another face or a gripper with smaller pads',
        },
      ];
    }),
  );
}

function unknownGroup(gripper: Gripper, group: string, path: Path): Complaint {
  const known = gripper.kind === 'jaw' ? [] : gripper.groups.map(({ id }) => id);
  return {
    path,
    code: 'unknown-pad-group',
    problem: `${gripper.id} has no group of pads named "${group}"`,
    remedy: known.length === 0 ? 'leave `group` out' : `write one of ${known.join(', ')}`,
  };
}

function unstableRests(facts: Facts): Complaint[] {
  return facts.scene.weldment.parts.flatMap(({ id, rest }, part) => {
    const refusal = facts.rests(part).find(({ face }) => face === rest)?.refusal;
    if (!refusal) return [];
    const stable = facts.rests(part).flatMap((other) => (other.refusal ? [] : [other.face]));
    return [
      {
        path: ['parts', id, 'rest'],
        code: refusal.code,
        problem: `${id} ${whyUnstable(rest!, refusal)}`,
        remedy:
          stable.length > 0 ? `write one of ${stable.join(', ')}` : 'no face of it is stable; use a stand',
      },
    ];
  });
}

/** What happens to a part that is laid on an unstable rest. */
function whyUnstable(rest: string, { value, limit }: Refusal): string {
  if (value === undefined) return `would roll away on its round face ${rest}`;
  const where = value < 0 ? `${mm(-value)} outside the edge` : `only ${mm(value)} inside the edge`;
  return `would tip over on ${rest}: its centre of mass is ${where}, and ${mm(limit!)} inside is asked for`;
}

function unweldable({ scene, joints }: Facts): Complaint[] {
  const unknown = new Set(
    joints
      .flatMap(({ a, b }) => [a, b])
      .filter((part) => scene.parts[part]!.part.material.steel === undefined),
  );
  return [...unknown].map((part) => {
    const { id, material } = scene.parts[part]!.part;
    return {
      path: ['parts', id],
      code: 'tack-strength-unknown',
      problem: `no tack strength is known for ${material.name}`,
      remedy: 'use S235, S275 or S355, or strike the joints of this part',
    };
  });
}

function unjoined({ scene, joints }: Facts): Complaint[] {
  if (scene.parts.length === 1) return [];
  return scene.parts.flatMap(({ part }, i) =>
    joints.some(({ a, b }) => a === i || b === i)
      ? []
      : [
          {
            path: ['parts', part.id],
            code: 'part-joined-to-nothing',
            problem: `${part.id} is joined to no other part`,
            remedy: 'add a joint, or take the part out of the weldment',
          },
        ],
  );
}
