import { compareText } from '../base/order.js';
import { rotate, type Pose } from '../geometry/pose.js';
import { groupFrame, groupPart, partInGroup, type GroupMetal } from './group-part.js';
import type { Settings } from './settings.js';
import type { MemberPair } from './shape.js';
import { wishesAround, wishesWithin } from './split-wishes.js';
import type { LyingSubAssembly, SubAssembly } from './sub-assembly.js';
import type { JointWish, Weldment } from './weldment.js';
import type { Wish } from './wish.js';

/** A weldment taken apart: what is tacked first, each as a weldment of its own, and the weldment that these are parts of. */
export interface Split {
  readonly main: Weldment;
  readonly groups: readonly { readonly group: LyingSubAssembly; readonly weldment: Weldment }[];
}

/** What parts of groups are called where each group is one part. */
class Names {
  private readonly groups: ReadonlyMap<string, string>;

  constructor(groups: readonly SubAssembly[]) {
    this.groups = new Map(groups.flatMap(({ name, parts }) => parts.map((part) => [part, name] as const)));
  }

  readonly called = (part: string): string => this.groups.get(part) ?? part;

  readonly apart = ([a, b]: readonly [string, string]): boolean => this.called(a) !== this.called(b);

  /** Two parts as they are called, and which members are meant where one is in a group. */
  pair([a, b]: readonly [string, string]): {
    readonly between: [string, string];
    readonly members?: MemberPair;
  } {
    const between: [string, string] = [this.called(a), this.called(b)];
    const [p, q] = [a, b].map((part) => (this.groups.has(part) ? part : undefined));
    return p === undefined && q === undefined ? { between } : { between, members: [p, q] };
  }
}

/**
 * A weldment with its sub-assemblies as parts. `main` has each group as one part in its place, by the name of the group;
 * what the file says between parts of different groups, or of a group and another part, is said of the group there:
 * joints and tolerances with the members meant, contacts by the names of members. What it says between parts of one
 * group is said in the weldment of that group: its parts as they lie on its rest, lowest at z = 0, the middle of what is
 * seen from above over the origin. `metal` is that of the tacks within each group, by its name: known once the group is
 * planned. A RangeError for a part or a rest that is not there.
 */
export function splitWeldment(
  weldment: Weldment,
  groups: readonly LyingSubAssembly[],
  metal: ReadonlyMap<string, GroupMetal> = new Map(),
): Split {
  return {
    main: mainOf(weldment, groups, metal),
    groups: groups.map((group) => ({ group, weldment: weldmentOf(weldment, group) })),
  };
}

/** Settings as they count for what a weldment is split into: wishes are said of what they are meant of. */
export function splitSettings(
  settings: Settings,
  weldment: Weldment,
  groups: readonly LyingSubAssembly[],
): { readonly main: Settings; readonly groups: readonly Settings[] } {
  const { wishes, ...others } = settings;
  const wishing = (own: readonly Wish[]): Settings => ({ ...others, ...wished(own) });
  if (wishes === undefined) return { main: settings, groups: groups.map(() => settings) };
  return {
    main: wishing(wishesAround(wishes, new Names(groups).called)),
    groups: groups.map((group) =>
      wishing(wishesWithin(wishes, (part) => group.parts.includes(part), groupFrame(weldment, group))),
    ),
  };
}

/** The key `wishes`, absent where nothing is wished. */
const wished = (wishes: readonly Wish[]): { readonly wishes?: Wish[] } =>
  wishes.length > 0 ? { wishes: [...wishes] } : {};

function mainOf(
  weldment: Weldment,
  groups: readonly LyingSubAssembly[],
  metal: ReadonlyMap<string, GroupMetal>,
): Weldment {
  const names = new Names(groups);
  const { kind, name, fitUp, parts, contacts, joints, first, wishes } = weldment;
  return {
    ...{ kind, name, fitUp },
    parts: [
      ...parts.filter(({ id }) => names.called(id) === id),
      ...groups.map((group) => groupPart(weldment, group, metal.get(group.name))),
    ].sort((a, b) => compareText(a.id, b.id)),
    contacts: contacts?.filter(names.apart),
    joints: joints
      ?.filter(({ between }) => names.apart(between))
      .map((joint) => ({ ...joint, ...names.pair(joint.between) })),
    blocking: weldment.blocking.flatMap(({ part, by }) =>
      around(names, part, by).map((one) => ({ part: one.part, by: one.others })),
    ),
    needs: weldment.needs.flatMap(({ part, after }) =>
      around(names, part, after).map((one) => ({ part: one.part, after: one.others })),
    ),
    first: first === undefined ? undefined : names.called(first),
    tolerances: weldment.tolerances
      .filter(({ from, to }) => names.apart([from, to]))
      .map((tolerance) => {
        const { between, ...members } = names.pair([tolerance.from, tolerance.to]);
        return { ...tolerance, from: between[0], to: between[1], ...members };
      }),
    ...wished(wishesAround(wishes ?? [], names.called)),
  };
}

/** A part and the others that its order depends on, each once as it is called; none where only its own group is left. */
function around(
  { called }: Names,
  part: string,
  others: readonly string[],
): readonly { readonly part: string; readonly others: readonly string[] }[] {
  const own = called(part);
  const left = [...new Set(others.map(called))].filter((other) => other !== own);
  return left.length > 0 ? [{ part: own, others: left }] : [];
}

function weldmentOf(weldment: Weldment, group: LyingSubAssembly): Weldment {
  const has = (part: string): boolean => group.parts.includes(part);
  const frame = groupFrame(weldment, group);
  const { kind, fitUp, parts, contacts, joints, first, wishes } = weldment;
  return {
    ...{ kind, fitUp },
    name: group.name,
    parts: parts.filter(({ id }) => has(id)).map((part) => partInGroup(part, frame)),
    contacts: contacts?.filter((pair) => pair.every(has)),
    joints: joints?.filter(({ between }) => between.every(has)).map((joint) => turnedJoint(joint, frame)),
    blocking: weldment.blocking.flatMap(({ part, by }) => {
      const own = by.filter(has);
      return has(part) && own.length > 0 ? [{ part, by: own }] : [];
    }),
    needs: weldment.needs.flatMap(({ part, after }) => {
      const own = after.filter(has);
      return has(part) && own.length > 0 ? [{ part, after: own }] : [];
    }),
    first: first !== undefined && has(first) ? first : undefined,
    tolerances: weldment.tolerances.filter(({ from, to }) => has(from) && has(to)),
    ...wished(wishesWithin(wishes ?? [], has, frame)),
  };
}

const turnedJoint = (joint: JointWish, { turn }: Pose): JointWish =>
  joint.open === undefined ? joint : { ...joint, open: rotate(turn, joint.open) };
