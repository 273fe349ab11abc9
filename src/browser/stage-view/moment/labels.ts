import { add, along, scale, type Vec3 } from '../../../geometry/vector.js';
import { place } from '../../../geometry/pose.js';
import type { PageData, PageStage } from '../../../report/page/page-data.js';
import type { LookState } from '../look.js';
import { placeAt } from './part-pose.js';
import { pointsOf } from './points.js';
import type { ShownMoment } from './shown-moment.js';
import { SAME } from './stages.js';

/** A text that stands at a point of the cell. Of those that would cover one another the first stays. */
export interface PlacedLabel {
  readonly at: Vec3;
  readonly text: string;
  readonly kind: 'newcomer' | 'hold' | 'tack' | 'name';
}

const middleOf = (points: readonly Vec3[]): Vec3 =>
  points.length === 0 ? [0, 0, 0] : scale(points.reduce(add), 1 / points.length);

/** All labels of a moment, the most important first. `cone`: length of the cones of torches, mm. */
export function labelsOf(
  data: PageData,
  moment: ShownMoment,
  look: LookState,
  time: number,
  cone: number,
): readonly PlacedLabel[] {
  return [
    ...newcomer(data, moment),
    ...holds(data, moment, look, time),
    ...alsoHeld(data, moment, time),
    ...(look.tacks ? tacks(moment, cone) : []),
    ...(look.names ? [...(look.exploded > 0 ? joined(data, moment) : []), ...surroundings(data, look)] : []),
  ];
}

function newcomer(data: PageData, { stage, parts, arrow }: ShownMoment): PlacedLabel[] {
  const part = stage && data.parts[stage.part];
  const pose = stage && parts[stage.part]?.pose;
  if (!part || !pose) return [];
  const at = arrow?.from ?? place(pose, middleOf(pointsOf(part.mesh.corners)));
  return [{ at, text: `${part.name} joins`, kind: 'newcomer' }];
}

/** What each robot carries or holds, at its flange. */
function holds(data: PageData, { stage, arms }: ShownMoment, look: LookState, time: number): PlacedLabel[] {
  if (look.arms === 'hidden' || look.exploded > 0) return [];
  return data.robots.flatMap(({ name, tools }, robot): PlacedLabel[] => {
    const { flange, tool } = arms[robot]!;
    const carried = data.parts.findIndex((part) => {
      const there = placeAt(part, time);
      return there?.where === 'carried' && there.robot === robot;
    });
    const holding = stage?.heldBy === robot && holdsNow(stage, time);
    const held = carried >= 0 ? carried : holding ? stage.part : -1;
    if (!flange || held < 0) return [];
    const what = held === stage?.part ? '' : `${data.parts[held]!.name} `;
    const by = tools[tool] ? `, ${tools[tool].name}` : '';
    const text = `${what}${carried >= 0 ? 'carried' : 'held'} by ${name}${by}`;
    return [{ at: flange.at, text, kind: 'hold' }];
  });
}

const holdsNow = ({ hold }: PageStage, time: number): boolean =>
  hold !== null && hold[0] <= time + SAME && time < hold[1] - SAME;

/** An earlier part that is held too while the newcomer is tacked. */
function alsoHeld(data: PageData, { stage, parts }: ShownMoment, time: number): PlacedLabel[] {
  const part = stage?.alsoHeld ?? -1;
  const pose = parts[part]?.pose;
  if (!stage || !pose || !holdsNow(stage, time)) return [];
  const { name, mesh } = data.parts[part]!;
  return [{ at: place(pose, middleOf(pointsOf(mesh.corners))), text: `${name} held too`, kind: 'hold' }];
}

/** At the tail of the cone that shows the torch direction. */
const tacks = ({ tacks: all }: ShownMoment, cone: number): PlacedLabel[] =>
  all
    .filter(({ present }) => present)
    .map(({ tack, moved }) => ({
      at: place(moved, along(middleOf([tack.from, tack.to]), tack.torch ?? [0, 0, 0], -cone)),
      text: String(tack.order),
      kind: 'tack',
    }));

const joined = (data: PageData, { parts }: ShownMoment): PlacedLabel[] =>
  parts.flatMap(({ pose, role }, i) =>
    pose && role === 'joined'
      ? [
          {
            at: place(pose, middleOf(pointsOf(data.parts[i]!.mesh.corners))),
            text: data.parts[i]!.name,
            kind: 'name',
          },
        ]
      : [],
  );

/** Names of robots, of tables and of where nobody may go. */
function surroundings(data: PageData, look: LookState): PlacedLabel[] {
  const robots = data.robots.map(({ name, base }): PlacedLabel => ({
    at: [base[0], base[1], base[2]],
    text: name,
    kind: 'name',
  }));
  const fixtures = data.fixtures.map(({ name, kind, mesh }): PlacedLabel => {
    const corners = pointsOf(mesh.corners);
    const low = Math.min(...corners.map(([, , z]) => z));
    const middle = middleOf(corners);
    return {
      at: along(middle, [0, 0, 1], low - middle[2]),
      text: kind === 'keep-out' ? `keep out: ${name}` : name,
      kind: 'name',
    };
  });
  return [...(look.arms === 'hidden' ? [] : robots), ...(look.fixtures ? fixtures : [])];
}
