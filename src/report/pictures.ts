import type { Facts } from '../facts/facts.js';
import { along, distance, subtract, unit, type Vec3 } from '../geometry/vector.js';
import type { GeometricPlan, Stage } from '../model/plan.js';
import type { Scene } from '../model/scene.js';
import { graphPicture } from './contact-graph-svg.js';
import { planGraph, weldmentGraph } from './drawn-graph.js';
import { counted } from './numbers.js';
import { plain } from './plain.js';
import { partSetSvg } from './part-set-svg.js';
import { inWeldment, type DrawnJoint, type DrawnTack, type PartSetView } from './part-set-view.js';
import { heldText } from './stage-table.js';

/** A picture and the file it goes to; file names are made from numbers only. */
export interface PictureFile {
  readonly file: string;
  readonly svg: string;
}

const numbered = (kind: string, number: number, of: number): string =>
  `${kind}-${String(number).padStart(Math.max(2, String(of).length), '0')}.svg`;

/** The contact graph, the whole weldment, and for every part a picture of it with all it meets. */
export function inspectPictures({ scene, joints }: Pick<Facts, 'scene' | 'joints'>): readonly PictureFile[] {
  const { parts, contacts, weldment } = scene;
  const all = parts.map((_, part) => part);
  const whole = {
    title: plain(weldment.name),
    note: `${counted(parts.length, 'part')}, ${counted(contacts.length, 'contact')}, ${counted(joints.length, 'joint')}`,
    parts: all,
    joints,
  };
  const meets = (part: number): number[] =>
    all.filter(
      (other) =>
        other === part ||
        contacts.some(({ a, b }) => (a === part && b === other) || (b === part && a === other)),
    );
  return [
    { file: 'contact-graph.svg', svg: graphPicture(weldmentGraph(scene, joints)) },
    { file: 'whole.svg', svg: partSetSvg(scene, whole) },
    ...parts.map(({ part }, i) => {
      const there = meets(i);
      const view = {
        title: `${plain(weldment.name)}: ${plain(part.id)} and what it meets`,
        note: counted(there.length - 1, 'neighbour'),
        parts: there,
        newcomer: i,
        joints,
      };
      return { file: numbered('part', i + 1, parts.length), svg: partSetSvg(scene, view) };
    }),
  ];
}

/** The joints of a plan with part indices; joints of parts that the scene does not have are left out. */
export const drawnJoints = (plan: GeometricPlan, scene: Scene): readonly DrawnJoint[] =>
  plan.joints.flatMap(({ id, between, type, leg, seams }) => {
    const [a, b] = between.map((name) => scene.index.get(name));
    return a === undefined || b === undefined ? [] : [{ id, a, b, type, leg, seams }];
  });

function drawnTacks({ tacks, manual }: Stage, joints: readonly DrawnJoint[]): DrawnTack[] {
  const seams = new Map(joints.flatMap((joint) => joint.seams.map((seam) => [seam.id, seam] as const)));
  const byHand = (manual?.tacks ?? []).map((tack) => ({ ...tack, phase: 'securing' as const }));
  return [...tacks, ...byHand].flatMap(({ seam: id, start, length, order, phase }) => {
    const seam = seams.get(id);
    if (!seam || distance(seam.from, seam.to) === 0) return [];
    const way: Vec3 = unit(subtract(seam.to, seam.from));
    return [{ order, phase, from: along(seam.from, way, start), to: along(seam.from, way, start + length) }];
  });
}

function stagePicture(
  stage: Stage,
  scene: Scene,
  joints: readonly DrawnJoint[],
  parts: readonly number[],
  options: Pick<PartSetView, 'legend' | 'theme'>,
): string {
  const tacks = stage.tacks.length + (stage.manual?.tacks.length ?? 0);
  return partSetSvg(scene, {
    title: `Stage ${stage.number}: ${plain(stage.part)} joins`,
    note: `held while tacking: ${heldText(stage)}; ${counted(tacks, 'tack')}`,
    parts,
    newcomer: parts.at(-1)!,
    joints,
    tacks: drawnTacks(stage, joints),
    ...options,
    ...(stage.approach && { approach: inWeldment(scene, stage.approach.direction) }),
  });
}

/** The stages whose part the scene has and that did not join before. */
function knownStages({ stages }: GeometricPlan, scene: Scene): readonly { stage: Stage; part: number }[] {
  const seen = new Set<number>();
  return stages.flatMap((stage) => {
    const part = scene.index.get(stage.part);
    if (part === undefined || seen.has(part)) return [];
    seen.add(part);
    return [{ stage, part }];
  });
}

/** The picture of every stage, by its number; none of stages whose part the scene does not have, or that joined before. */
export function stagePictures(
  plan: GeometricPlan,
  scene: Scene,
  options: Pick<PartSetView, 'legend' | 'theme'> = {},
): ReadonlyMap<number, string> {
  const joints = drawnJoints(plan, scene);
  const known = knownStages(plan, scene);
  const order = known.map(({ part }) => part);
  return new Map(
    known.map(({ stage }, i) => [
      stage.number,
      stagePicture(stage, scene, joints, order.slice(0, i + 1), options),
    ]),
  );
}

/**
 * The contact graph in layers by the order in which parts join, and one picture a stage: the parts in place, the newcomer, where
 * it comes from, its seams and its tacks in order. Parts that the scene does not have, and parts that
 * join again, are left out.
 */
export function planPictures(plan: GeometricPlan, scene: Scene): readonly PictureFile[] {
  const stages = [...stagePictures(plan, scene).values()];
  return [
    { file: 'contact-graph.svg', svg: graphPicture(planGraph(plan, scene)) },
    ...stages.map((svg, i) => ({ file: numbered('stage', i + 1, stages.length), svg })),
  ];
}
