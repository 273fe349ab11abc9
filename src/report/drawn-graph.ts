import type { Scene } from '../model/scene.js';
import type { AbstractPlan, GeometricPlan } from '../model/plan.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { inspectName } from './contact-graph-names.js';
import type { GraphName } from './contact-graph-layout.js';
import { joiningRows, standingRows } from './contact-graph-rows.js';
import { amount, counted } from './numbers.js';
import type { DrawnJoint } from './part-set-view.js';
import { clipped, plain } from './plain.js';

/** How two parts are connected: they touch, they are only near, or a joint is asked for where nothing meets. */
export type EdgeKind = 'bearing' | 'adjacent' | 'apart';

/** A joint on its edge. */
export interface GraphPlate {
  readonly text: string;
  /** In full. */
  readonly told: string;
  /** See `Pick` of the page. */
  readonly pick?: string;
}

export interface GraphEdge {
  readonly a: number;
  readonly b: number;
  readonly kind: EdgeKind;
  readonly plates: readonly GraphPlate[];
  readonly told: string;
}

export interface GraphPart extends GraphName {
  /** What is written below it where it is the first part. */
  readonly first: string | undefined;
  readonly told: string;
  readonly pick?: string;
}

/** A contact graph as it is drawn. */
export interface DrawnGraph {
  readonly title: string;
  readonly note: string;
  readonly nodes: readonly GraphPart[];
  /** Indices of parts, the lowest row first. */
  readonly rows: readonly (readonly number[])[];
  readonly edges: readonly GraphEdge[];
  /** What the marks mean. */
  readonly says: Readonly<Record<EdgeKind | 'plate' | 'first', string>>;
  /** Least width, and the room between two rows, pixels. */
  readonly least: number;
  readonly layerGap: number;
}

const SAYS = {
  bearing: 'bearing: may carry force',
  adjacent: 'only adjacent: may be joined',
  apart: 'no contact',
  plate: 'joint, type, leg in mm',
  first: 'first part',
} as const;

interface Meeting {
  readonly a: number;
  readonly b: number;
  readonly kind: EdgeKind;
  /** Indices of joints. */
  readonly joints: readonly number[];
}

type Between = { readonly a: number; readonly b: number };

/** Contacts with the joints between the same parts, then joints of parts that do not meet. */
function meetings(
  contacts: readonly (Between & { readonly kind: EdgeKind })[],
  joints: readonly Between[],
): Meeting[] {
  const same = (p: Between, q: Between): boolean =>
    (p.a === q.a && p.b === q.b) || (p.a === q.b && p.b === q.a);
  const joining = (pair: Between): number[] => joints.flatMap((joint, i) => (same(joint, pair) ? [i] : []));
  const met = contacts
    .filter((contact, i) => contacts.findIndex((earlier) => same(earlier, contact)) === i)
    .map((contact) => ({ ...contact, joints: joining(contact) }));
  const apart = joints.flatMap((joint, i): Meeting[] => {
    if (contacts.some((contact) => same(contact, joint))) return [];
    if (joining(joint)[0] !== i) return [];
    return [{ a: joint.a, b: joint.b, kind: 'apart', joints: joining(joint) }];
  });
  return [...met, ...apart];
}

const kindsOf = (scene: Scene) =>
  scene.contacts.map(({ a, b, bearing }) => ({
    ...{ a, b },
    kind: bearing.length > 0 ? ('bearing' as const) : ('adjacent' as const),
  }));

const namesOf = (scene: Scene): GraphName[] => scene.parts.map(({ part, mass }) => inspectName(part, mass));

const noteOf = (parts: number, contacts: number, joints: number): string =>
  `${counted(parts, 'part')}, ${counted(contacts, 'contact')}, ${counted(joints, 'joint')}`;

const titleOf = (name: string): string => `${plain(name)}: contact graph`;

/** The graph of a weldment: parts in rows, what stands on the table at the bottom. */
export function weldmentGraph(scene: Scene, joints: readonly DrawnJoint[]): DrawnGraph {
  const { weldment, parts, contacts } = scene;
  const first = weldment.first === undefined ? undefined : scene.index.get(weldment.first);
  const jointText = ({ id, type, leg }: DrawnJoint): string => `${plain(id)} ${type} ${amount(leg, 2)}`;
  return {
    title: titleOf(weldment.name),
    note: noteOf(parts.length, contacts.length, joints.length),
    nodes: namesOf(scene).map((name, part) => ({
      ...{ ...name, told: name.name, first: part === first ? 'first' : undefined },
    })),
    rows: standingRows(scene),
    edges: meetings(kindsOf(scene), joints).map(({ a, b, kind, joints: own }) => {
      const text =
        own.map((i) => jointText(joints[i]!)).join(', ') + (kind === 'apart' ? ': no contact' : '');
      return { a, b, kind, told: text, plates: own.length === 0 ? [] : [{ text, told: text }] };
    }),
    says: SAYS,
    ...{ least: 900, layerGap: 120 },
  };
}

/** Parts with their numbers in the order in which they join, the first marked as the base. */
function numbered(names: readonly GraphName[], order: readonly number[]): GraphPart[] {
  return names.map(({ name, detail }, part) => {
    const at = order.indexOf(part);
    const told =
      at < 0 ? `${name}, never joins` : `${name}, joins in stage ${at + 1}${at === 0 ? ', the base' : ''}`;
    return {
      ...{ name: at < 0 ? name : `${at + 1}. ${name}`, detail, told: `${told}; ${detail}` },
      ...{ first: at === 0 ? 'base' : undefined, pick: `part:${part}` },
    };
  });
}

const partsOf = (names: readonly GraphName[], { a, b }: Between): string =>
  `${names[a]!.name} and ${names[b]!.name}`;

const PLAN_SAYS = {
  ...SAYS,
  plate: 'joint and how many tacks it gets',
  first: 'base: the first part',
} as const;

/** Tacks of every joint of a plan by the id of the joint, those that a person lays too. */
function tacksOfJoints({ stages }: Pick<GeometricPlan, 'stages'>): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { tacks, manual } of stages)
    for (const { joint } of [...tacks, ...(manual?.tacks ?? [])])
      counts.set(joint, (counts.get(joint) ?? 0) + 1);
  return counts;
}

/** Part indices in the order in which they join; a part that joins again counts once. */
const orderOf = (
  stages: readonly { readonly part: string }[],
  index: (name: string) => number | undefined,
): number[] => [...new Set(stages.flatMap(({ part }) => index(part) ?? []))];

/** The graph of a plan: in layers by the order in which parts join, the tacks of each joint counted. */
export function planGraph(plan: GeometricPlan, scene: Scene): DrawnGraph {
  const { parts, contacts } = scene;
  const known = plan.joints.flatMap((joint, index) => {
    const [a, b] = joint.between.map((name) => scene.index.get(name));
    return a === undefined || b === undefined ? [] : [{ joint, index, a, b }];
  });
  const [names, counts] = [namesOf(scene), tacksOfJoints(plan)];
  const order = orderOf(plan.stages, (name) => scene.index.get(name));
  const edges = meetings(kindsOf(scene), known).map(({ a, b, kind, joints }): GraphEdge => ({
    ...{ a, b, kind, told: `${partsOf(names, { a, b })}: ${SAYS[kind]}` },
    plates: joints.map((i) => {
      const { joint, index } = known[i]!;
      const tacks = counted(counts.get(joint.id) ?? 0, 'tack');
      const what = `${joint.type}, leg ${amount(joint.leg, 2)} mm`;
      return {
        text: `${plain(joint.id)}: ${tacks}`,
        told: `joint ${plain(joint.id)} of ${partsOf(names, { a, b })}, ${what}, ${tacks}`,
        pick: `joint:${index}`,
      };
    }),
  }));
  const beside = standingRows(scene).flat();
  return {
    title: titleOf(plan.weldment.name),
    note: `${noteOf(parts.length, contacts.length, known.length)}, in the order in which the parts join`,
    nodes: numbered(names, order),
    rows: joiningRows(
      order,
      edges.map(({ a, b }) => [a, b]),
      beside,
    ),
    edges,
    says: PLAN_SAYS,
    ...{ least: 640, layerGap: 76 },
  };
}

/** The same of a plan without shapes, from the contacts and joints that its weldment gives. */
export function abstractGraph(plan: AbstractPlan, weldment: AbstractWeldment): DrawnGraph {
  const ids = weldment.parts.map(({ id }) => id);
  const pairOf = ([a, b]: readonly [string, string]): Between => ({ a: ids.indexOf(a), b: ids.indexOf(b) });
  const names = weldment.parts.map(({ id, mass }) => ({
    name: clipped(plain(id), 24),
    detail: mass === undefined ? '' : `${amount(mass, 2)} kg`,
  }));
  const contacts = (weldment.contacts ?? weldment.joints.map(({ between }) => between)).map((pair) => ({
    ...{ ...pairOf(pair), kind: 'bearing' as const },
  }));
  const joints = weldment.joints.map(({ between }) => pairOf(between));
  const order = orderOf(plan.stages, (name) => (ids.includes(name) ? ids.indexOf(name) : undefined));
  const edges = meetings(contacts, joints).map(({ a, b, kind, joints: own }): GraphEdge => ({
    ...{ a, b, kind, told: `${partsOf(names, { a, b })} meet` },
    plates: own.map((i) => {
      const tacks = counted(weldment.joints[i]!.tacks, 'tack');
      return { text: tacks, told: `joint of ${partsOf(names, { a, b })}, ${tacks}`, pick: `joint:${i}` };
    }),
  }));
  return {
    title: titleOf(plan.weldment.name),
    note: `${noteOf(ids.length, weldment.contacts?.length ?? 0, joints.length)}, in the order in which the parts join`,
    nodes: numbered(names, order),
    rows: joiningRows(
      order,
      edges.map(({ a, b }) => [a, b]),
      order,
    ),
    edges,
    says: {
      ...PLAN_SAYS,
      bearing: weldment.contacts === undefined ? 'joined' : 'contact as given',
      plate: 'joint, and how many tacks it gets',
    },
    ...{ least: 640, layerGap: 76 },
  };
}
