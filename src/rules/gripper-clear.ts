import { firstContact } from '../geometry/advance.js';
import { IDENTITY, inverse, place, translate } from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { negate, scale, type Vec3 } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { shapeSolid } from '../model/part-geometry.js';
import { gripperSolid, padsInCell } from '../model/placement.js';
import { outOfOpening, STATION_WORDS, stationOf, type StationName } from '../model/stations.js';
import type { Scene } from '../model/scene.js';
import { tableAnyhow } from '../model/table-turn.js';
import { direction, poseOf } from './plan-frames.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import {
  grippersOf,
  handlingViews,
  holdersOf,
  keptHolds,
  otherHolder,
  placingGrip,
  stageViews,
  type HandlingView,
  type StageView,
} from './stage-views.js';

const ID = 'gripper-clear';

const moved = (solid: Solid, by: Vec3): Solid => placeSolid(solid, translate(IDENTITY, by));

interface Stroke {
  readonly name: string;
  readonly field: string;
  readonly start: Solid;
  readonly way: Vec3;
  readonly travel: number;
}

/** The two strokes of a gripper at the final place: in with the part, away without it. */
function strokesOf({ settings }: RuleContext, view: StageView, one: HandlingView): Stroke[] {
  const { part, pose } = view.placed;
  const there = gripperSolid(part.shape, pose, one.grip, one.gripper);
  const { into } = padsInCell(part.shape, pose, one.grip, one.gripper);
  const away = settings.motion['approach-distance'];
  const retreat = { name: 'leaving', field: 'retreat', start: there, way: negate(into), travel: away };
  const { approach } = view.stage;
  const way = approach && direction(approach.direction);
  if (!way) return [retreat];
  const start = moved(there, scale(way, -approach.distance));
  return [{ name: 'bringing', field: 'approach', start, way, travel: approach.distance }, retreat];
}

interface Obstacle {
  readonly name: string;
  readonly solid: Solid;
}

const keepOutsOf = ({ keepOuts }: Scene): readonly Obstacle[] =>
  keepOuts.map((solid, i) => ({ name: `keep-out ${i + 1}`, solid }));

const obstaclesOf = ({ scene }: StageView, parts: readonly number[]): readonly Obstacle[] => [
  ...parts.map((i) => ({ name: scene.parts[i]!.part.id, solid: scene.parts[i]!.solid })),
  { name: 'the table', solid: scene.table },
  ...keepOutsOf(scene),
];

/** A gripper that holds an earlier part: on its way off, which is its way there where it takes hold of it in place. */
function otherFindings(context: RuleContext, view: StageView): Finding[] {
  const { settings } = context;
  const other = otherHolder(context, view);
  if (other === undefined) return [];
  const { where, placed, grip, gripper } = other;
  const { shape, id } = placed.part;
  const there = gripperSolid(shape, placed.pose, grip, gripper);
  const way = negate(padsInCell(shape, placed.pose, grip, gripper).into);
  const travel = settings.motion['approach-distance'];
  const around = [...view.before, view.part].filter((i) => i !== other.part);
  const own = holdersOf(context, view).filter(({ part }) => part === view.part);
  return [...obstaclesOf(view, around), ...grippersOf(own)].flatMap(({ name, solid }) => {
    const met = firstContact(there, way, travel, solid, settings.motion['touch-tolerance']);
    if (met.kind === 'free') return [];
    const message = `${gripper.id}, at ${id} in its place, meets ${name} ${shown(met.at)} mm off its grip`;
    return [breach(ID, where, message, { value: met.at, limit: travel })];
  });
}

function placeFindings(context: RuleContext, view: StageView): Finding[] {
  const { settings } = context;
  const one = placingGrip(context, view);
  if (one === undefined) return [];
  const obstacles = [...obstaclesOf(view, view.before), ...grippersOf(keptHolds(context, view))];
  return strokesOf(context, view, one).flatMap(({ name, field, start, way, travel }) =>
    obstacles.flatMap((obstacle) => {
      const met = firstContact(start, way, travel, obstacle.solid, settings.motion['touch-tolerance']);
      if (met.kind === 'free') return [];
      const message =
        `${one.gripper.id}, ${name} ${view.stage.part}, meets ${obstacle.name} ` +
        `after ${shown(met.at)} of ${shown(travel)} mm`;
      return [breach(ID, `${one.where}.put.${field}`, message, { value: met.at, limit: travel })];
    }),
  );
}

/** The gripper stays above the top of the station at which the part lies, or inside the opening of the stand. */
function stationFindings({ cell, settings }: RuleContext, view: StageView, one: HandlingView): Finding[] {
  const { take, put } = one.handling;
  const check = (end: string, stated: typeof take.part, name: StationName): Finding[] => {
    const station = stationOf(cell, name)?.pose;
    if (station === undefined) return [];
    const solid = gripperSolid(view.placed.part.shape, poseOf(stated), one.grip, one.gripper);
    const seen = inverse(station);
    const heights = solid.pieces.flatMap(({ vertices }) => vertices.map((vertex) => place(seen, vertex)[2]));
    const lowest = Math.min(...heights);
    if (lowest >= -settings.motion['touch-tolerance']) return [];
    const out = name === 'two-sided' ? outOfOpening(cell.twoSided!, solid) : Infinity;
    if (out <= settings.motion['touch-tolerance']) return [];
    const message =
      `${one.gripper.id} at ${view.stage.part} reaches ${shown(-lowest)} mm below the top of ${STATION_WORDS[name]}` +
      (name === 'two-sided' ? ` and ${shown(out)} mm out of its opening` : '');
    return [breach(ID, `${one.where}.${end}`, message, { value: lowest, limit: 0 })];
  };
  const taken = check('take', take.part, take.from);
  return put.to === 'place' ? taken : [...taken, ...check('put', put.part, put.to)];
}

/** At a station: the gripper drawn back from the part, and part and gripper lifted, past keep-outs and the table, which may turn meanwhile. */
function stationStrokeFindings(context: RuleContext, view: StageView, one: HandlingView): Finding[] {
  const { shape } = view.placed.part;
  const { 'approach-distance': travel, 'touch-tolerance': tolerance } = context.settings.motion;
  const { scene } = context;
  const obstacles = [{ name: 'the table', solid: tableAnyhow(scene) }, ...keepOutsOf(scene)];
  const ends = (['take', 'put'] as const).filter((end) => end === 'take' || one.handling.put.to !== 'place');
  return ends.flatMap((end) => {
    const at = poseOf(one.handling[end].part);
    const gripper = gripperSolid(shape, at, one.grip, one.gripper);
    const away = negate(padsInCell(shape, at, one.grip, one.gripper).into);
    const strokes = [
      { start: gripper, way: away },
      { start: gripper, way: [0, 0, 1] as Vec3 },
      { start: placeSolid(shapeSolid(shape), at), way: [0, 0, 1] as Vec3 },
    ];
    return obstacles
      .filter(({ solid }) =>
        strokes.some(({ start, way }) => firstContact(start, way, travel, solid, tolerance).kind !== 'free'),
      )
      .map(({ name }) =>
        breach(
          ID,
          `${one.where}.${end}`,
          `${one.gripper.id} with ${view.stage.part} meets ${name} at the station`,
        ),
      );
  });
}

/** The gripper against the part it holds, as it sits and drawn back: the other leg of an angle, a flange. */
function ownPartFindings({ settings }: RuleContext, view: StageView, one: HandlingView): Finding[] {
  const { shape } = view.placed.part;
  const { 'approach-distance': travel, 'touch-tolerance': tolerance } = settings.motion;
  const gripper = gripperSolid(shape, IDENTITY, one.grip, one.gripper);
  const away = negate(padsInCell(shape, IDENTITY, one.grip, one.gripper).into);
  const met = firstContact(gripper, away, travel, shapeSolid(shape), tolerance);
  if (met.kind === 'free') return [];
  const message =
    `${one.gripper.id} on ${one.grip.face} of ${view.stage.part}, drawn back, meets the part itself ` +
    `after ${shown(met.at)} of ${shown(travel)} mm`;
  return [breach(ID, `${one.where}.grip`, message, { value: met.at, limit: travel })];
}

function judge(context: RuleContext): Finding[] {
  return stageViews(context).flatMap((view) => [
    ...handlingViews(context, view).flatMap((one) => [
      ...ownPartFindings(context, view, one),
      ...stationFindings(context, view, one),
      ...stationStrokeFindings(context, view, one),
    ]),
    ...placeFindings(context, view),
    ...otherFindings(context, view),
  ]);
}

/** The gripper's envelope is free wherever a part is taken or put, on the stroke in and on the stroke away. */
export const gripperClear: Rule = {
  id: ID,
  forbids:
    'a gripper that meets a part in place or the one it holds, the table, a keep-out or the top of a station',
  why: 'the gripper is larger than the pads and must come out again when the part is in',
  judge,
};
