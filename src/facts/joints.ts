import { snap } from '../base/order.js';
import { place } from '../geometry/pose.js';
import { dot, negate, subtract, unit } from '../geometry/vector.js';
import { leastFilletLeg } from '../mechanics/tack-rules.js';
import { asMember, memberContacts, thicknessAlong } from '../model/group.js';
import type { Contact, PlacedPart, Scene } from '../model/scene.js';
import type { MemberPair } from '../model/shape.js';
import type { JointType, JointWish } from '../model/weldment.js';
import { seamsOfContact, type Seam } from './seams.js';

/** A seam with its id in the plan. */
export interface JointSeam extends Seam {
  readonly id: string;
}

/** Two parts that shall be welded; `a` and `b` are part indices in the order the file names them. */
export interface Joint {
  readonly id: string;
  readonly a: number;
  readonly b: number;
  readonly type: JointType;
  readonly leg: number;
  readonly origin: 'given' | 'proposed';
  readonly seams: readonly JointSeam[];
}

/** A joint that was asked for and cannot be had from the geometry. */
export interface JointMiss {
  readonly wish: JointWish;
  /** Index of the wish in the file. */
  readonly at: number;
  readonly why: 'no-contact' | 'no-seam';
}

const INSIDE: readonly JointType[] = ['fillet', 'lap'];

/** The seam on the other side of the contact: parallel, opening the other way in the contact plane. */
function opposite(seam: Seam, all: readonly Seam[]): Seam | undefined {
  const way = (s: Seam) => unit(subtract(s.to, s.from));
  return all.find(
    (other) =>
      other !== seam &&
      Math.abs(dot(way(other), way(seam))) > 0.999 &&
      dot(other.out, seam.out) < -0.9 &&
      snap(other.length - seam.length, 1) === 0,
  );
}

/** A chord may be this far off the quarter it stands for, as the product of the two directions. */
const QUARTER = Math.cos((30 * Math.PI) / 180);

/**
 * All seams of a contact; of the many chords round a round end the longest and those a quarter, a half and three
 * quarters round from it, as far as they are there. The final weld goes all the way round; tacks do not.
 */
function allSides(seams: readonly Seam[]): readonly Seam[] {
  const first = seams.find(({ chord }) => chord);
  if (first === undefined) return seams;
  const aside = unit(subtract(first.to, first.from));
  const kept = [first.out, negate(first.out), aside, negate(aside)].flatMap((way) => {
    const near = seams.filter(({ chord, out }) => chord && dot(out, way) > QUARTER);
    const best = Math.max(...near.map(({ out }) => snap(dot(out, way), 1e-6)));
    return near.find(({ out }) => snap(dot(out, way), 1e-6) === best) ?? [];
  });
  return seams.filter((seam) => !seam.chord || kept.includes(seam));
}

function chosen(seams: readonly Seam[], wish: Pick<JointWish, 'sides' | 'open'>): readonly Seam[] {
  if (wish.sides === 'all') return allSides(seams);
  const open = wish.open;
  const ranked = open
    ? [...seams]
        .filter((seam) => dot(seam.open, open) > 0.1)
        .sort((p, q) => snap(dot(q.open, open) - dot(p.open, open), 1e-6) || q.length - p.length)
    : seams;
  const first = ranked[0];
  if (!first) return [];
  if (wish.sides === 'one') return [first];
  const second = opposite(first, seams);
  return second ? [first, second] : [first];
}

const named = (id: string, seams: readonly Seam[]): readonly JointSeam[] =>
  seams.map((seam, i) => ({ ...seam, id: `${id}.${i + 1}` }));

/** Where the two parts of a joint meet: of groups the members that it names. */
function meetingOf(
  scene: Scene,
  { members = [undefined, undefined] }: JointWish,
  [a, b]: readonly [number, number],
): { readonly contact: Contact; readonly members: MemberPair } | undefined {
  const found = scene.contacts.find((c) => (c.a === a && c.b === b) || (c.a === b && c.b === a));
  if (found === undefined) return undefined;
  const [p, q] = found.a === a ? members : [members[1], members[0]];
  return memberContacts(scene, found).find((one) => one.members[0] === p && one.members[1] === q);
}

/** The joints of a weldment: those given, or one for every contact that offers a seam. */
export function findJoints(scene: Scene): {
  readonly joints: readonly Joint[];
  readonly misses: readonly JointMiss[];
} {
  const { weldment } = scene;
  if (weldment.joints === undefined) return { joints: proposed(scene), misses: [] };
  const joints: Joint[] = [];
  const misses: JointMiss[] = [];
  weldment.joints.forEach((wish, at) => {
    const [a, b] = wish.between.map((id) => scene.index.get(id)!) as [number, number];
    const met = meetingOf(scene, wish, [a, b]);
    const kind = INSIDE.includes(wish.type) ? 'inside' : 'flush';
    const seams = met
      ? chosen(
          seamsOfContact(scene, met.contact, met.members).filter((seam) => seam.kind === kind),
          wish,
        )
      : [];
    if (seams.length === 0) misses.push({ wish, at, why: met ? 'no-seam' : 'no-contact' });
    const id = `J${at + 1}`;
    joints.push({ id, a, b, type: wish.type, leg: wish.leg, origin: 'given', seams: named(id, seams) });
  });
  return { joints, misses };
}

/** Thickness of both parts of a joint where a seam of it runs, mm. */
export const seamThicknesses = (
  { parts, cell }: Scene,
  { a, b }: Pick<Joint, 'a' | 'b'>,
  { from, to }: Seam,
): readonly [number, number] => {
  const [start, end] = [place(cell.weldmentPose, from), place(cell.weldmentPose, to)];
  return [thicknessAlong(parts[a]!, start, end), thicknessAlong(parts[b]!, start, end)];
};

/** Type of a joint by its contact: flush seams make a corner; broad face on broad face a lap; else a fillet. */
function typeOf(contact: Contact, parts: readonly PlacedPart[], seam: Seam): JointType {
  if (seam.kind === 'flush') return 'corner';
  const broad = parts.every(({ solid, thickness }) => {
    const normal = contact.patches[0]!.normal;
    const depths = solid.pieces[0]!.vertices.map((vertex) => dot(vertex, normal));
    return Math.max(...depths) - Math.min(...depths) <= thickness + 1e-6;
  });
  return broad ? 'lap' : 'fillet';
}

function proposed(scene: Scene): Joint[] {
  return scene.contacts
    .flatMap((whole) => memberContacts(scene, whole))
    .flatMap(({ contact, members }) => {
      const all = seamsOfContact(scene, contact, members);
      const inside = all.filter(({ kind }) => kind === 'inside');
      const seams = chosen(inside.length > 0 ? inside : all, { sides: 'both', open: undefined });
      if (seams.length === 0) return [];
      const parts = [contact.a, contact.b].map((part, i) => asMember(scene.parts[part]!, members[i]));
      const [thin, thick] = parts.map(({ thickness }) => thickness).sort((p, q) => p - q) as [number, number];
      const leg = Math.min(thin, leastFilletLeg(thick));
      return [{ a: contact.a, b: contact.b, type: typeOf(contact, parts, seams[0]!), leg, seams }];
    })
    .map((joint, i) => ({
      ...joint,
      id: `J${i + 1}`,
      origin: 'proposed',
      seams: named(`J${i + 1}`, joint.seams),
    }));
}
