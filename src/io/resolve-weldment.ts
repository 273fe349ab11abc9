import { fromRollPitchYaw } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { length } from '../geometry/vector.js';
import { compareText } from '../base/order.js';
import { findMaterial } from '../model/material.js';
import { shapeOf } from '../model/shape.js';
import { manualSchema } from '../model/weldment.js';
import type {
  AbstractFile,
  AbstractWeldment,
  GivenGrip,
  JointWish,
  OrderRelations,
  Part,
  Weldment,
  WeldmentFile,
} from '../model/weldment.js';

type PartFile = WeldmentFile['parts'][string];

/** Parts in the order of their names, so that files of equal content give equal weldments. */
const byName = <T>(parts: Readonly<Record<string, T>>): readonly (readonly [string, T])[] =>
  Object.entries(parts).sort(([a], [b]) => compareText(a, b));

/** The weldment of a file that passed its schema and `weldmentIssues`: radians, unit vectors, materials. */
export const resolveWeldment = (file: WeldmentFile): Weldment => ({
  kind: 'geometric',
  name: file.weldment,
  parts: byName(file.parts).map(([id, part]) => resolvePart(id, part, file)),
  contacts: file.contacts,
  joints: file.joints?.map(resolveJoint),
  ...relationsOf(file),
  fitUp: file['fit-up'],
  tolerances: file.tolerances,
  ...(file['sub-assemblies'] && { subAssemblies: file['sub-assemblies'] }),
});

/** What stands in for a part that names no way to be taken: any gripper, no regrip, no time. */
const ANY_WAY = { gripper: '', regrips: 0, seconds: 0 } as const;

/**
 * The abstract weldment of a file that passed its schema and `weldmentIssues`. A part without `ways` gets one:
 * gripper '' (no gripper, so never a tool change for it), no regrips, 0 seconds.
 */
export const resolveAbstract = (file: AbstractFile): AbstractWeldment => ({
  kind: 'abstract',
  name: file.weldment,
  parts: byName(file.parts).map(([id, { mass, ways }]) => ({ id, mass, ways: ways ?? [ANY_WAY] })),
  contacts: file.contacts,
  joints: file.joints,
  ...relationsOf(file),
  times: { tack: file.times.tack, toolChange: file.times['tool-change'] },
});

const relationsOf = ({ blocking, needs, first, wishes }: WeldmentFile | AbstractFile): OrderRelations => ({
  blocking,
  needs,
  first,
  ...(wishes && { wishes }),
});

function resolvePart(id: string, part: PartFile, { material, cut }: WeldmentFile): Part {
  const [roll, pitch, yaw] = part.turn ?? [0, 0, 0];
  return {
    id,
    shape: shapeOf(part)!,
    pose: { at: part.at, turn: fromRollPitchYaw(roll, pitch, yaw) },
    material: findMaterial(part.material ?? material)!,
    massGiven: part.mass,
    cut: part.cut ?? cut,
    rest: part.rest,
    grips: part.grips?.map(resolveGrip),
    approaches: (part.approach ?? []).map(directionOf),
    ...(part.manual && { manual: part.manual === true ? manualSchema.parse({}) : part.manual }),
  };
}

const resolveGrip = (grip: NonNullable<PartFile['grips']>[number]): GivenGrip => ({
  gripper: grip.gripper,
  face: grip.face,
  position: grip.position,
  turn: (grip.turn * Math.PI) / 180,
  ...(grip.group === undefined ? {} : { group: grip.group }),
});

const resolveJoint = (joint: NonNullable<WeldmentFile['joints']>[number]): JointWish => ({
  between: joint.between,
  type: joint.type,
  leg: joint.leg,
  sides: joint.sides,
  open: joint.open === undefined ? undefined : directionOf(joint.open),
});

/** The unit vector along a given direction, first scaled by a power of two so that no square under- or overflows. */
function directionOf(given: Vec3): Vec3 {
  const size = 2 ** Math.floor(Math.log2(Math.max(...given.map(Math.abs))));
  const [x, y, z] = [given[0] / size, given[1] / size, given[2] / size];
  const long = length([x, y, z]);
  return [x / long, y / long, z / long];
}
