import type { Facts } from '../../facts/facts.js';
import { boundsAround } from '../../geometry/bounds.js';
import { inverse, place } from '../../geometry/pose.js';
import { distance, length, type Vec3 } from '../../geometry/vector.js';
import { isBeyond } from '../../kinematics/reach-bound.js';
import type { Cell, Handler, Welder } from '../../model/cell.js';
import { faceFrame } from '../../model/part-geometry.js';
import { short, type Mistake } from './mistake.js';

/** A part that needs more than this share of the payload is told of: masses are known no better (our choice). */
const PAYLOAD_SHARE = 0.9;

/** Grips that lie beside the face they name. */
export const gripMistakes = ({ scene }: Facts): Mistake[] =>
  scene.weldment.parts.flatMap(({ id, shape, grips }) =>
    (grips ?? []).flatMap(({ face, position: [u, v] }, at) => {
      const { halfU, halfV } = faceFrame(shape, face);
      if (Math.abs(u) <= halfU && Math.abs(v) <= halfV) return [];
      return [
        {
          path: ['parts', id, 'grips', at, 'position'],
          code: 'grip-off-face',
          problem: `[${short(u)}, ${short(v)}] is beside ${face}, which reaches ${short(halfU)} and ${short(halfV)} mm from its middle`,
          remedy: 'count from the middle of the face, along its axes',
        },
      ];
    }),
  );

/** Parts that leave little of the payload of the strongest robot, even with the lightest gripper that may take them. */
export function payloadMistakes({ scene }: Facts): Mistake[] {
  const { handlers, grippers } = scene.cell;
  const strongest = handlers.reduce((best, next) => (next.payload.mass > best.payload.mass ? next : best));
  return scene.parts.flatMap(({ part, mass }) => {
    const named = part.grips?.map(({ gripper }) => gripper);
    const usable = grippers.filter(
      ({ id, kind }) =>
        (named === undefined || named.includes(id)) && (kind !== 'magnet' || part.material.magnetic > 0),
    );
    const together = mass + Math.min(...usable.map((gripper) => gripper.mass));
    const most = strongest.payload.mass;
    if (part.manual || together > most || together <= PAYLOAD_SHARE * most) return [];
    return [
      {
        path: ['parts', part.id],
        code: 'payload-near-limit',
        problem: `${part.id} and its lightest gripper come to ${short(together)} kg of the ${short(most)} kg that ${strongest.id} may carry`,
        remedy: 'check `mass` and `payload`, which holds near the wrist only; or use a lighter gripper',
      },
    ];
  });
}

/** Stations, by their path in the cell file, that no robot which needs them reaches even with its arm stretched. */
export function stationMistakes({ scene }: Facts): Mistake[] {
  const { cell } = scene;
  const { infeed, regrip, twoSided, table, handlers, welders } = cell;
  const places = [
    { name: 'infeed', at: infeed.pose.at, robots: handlers, extra: partSize(scene) },
    { name: 'regrip', at: regrip.pose.at, robots: handlers, extra: partSize(scene) },
    ...(twoSided
      ? [{ name: 'two-sided', at: twoSided.pose.at, robots: handlers, extra: partSize(scene) }]
      : []),
    { name: 'table', at: table.pose.at, robots: handlers, extra: wholeSize(scene) },
    { name: 'table', at: table.pose.at, robots: welders, extra: wholeSize(scene) },
  ];
  return places.flatMap(({ name, at, robots, extra }) => {
    if (robots.some((robot) => !beyond(robot, at, extra + toolOf(robot, cell)))) return [];
    const ids = robots.map(({ id }) => id).join(', ');
    return [
      {
        path: ['stations', name],
        code: 'station-out-of-reach',
        problem: `its middle is farther from ${ids} than the stretched arm, its tool and a part reach`,
        remedy: 'move the station or the robot, and look for a wrong sign or unit in `at`',
      },
    ];
  });
}

const beyond = ({ arm, base }: Handler | Welder, at: Vec3, spread: number): boolean =>
  isBeyond(arm, place(inverse(base), at), spread);

/** From the wrist centre to the end of the longest tool of a robot, mm. */
const toolOf = (robot: Handler | Welder, { grippers }: Cell): number =>
  robot.arm.c4 +
  (robot.duty === 'weld' ? length(robot.torch.tip.at) : Math.max(...grippers.map(({ reach }) => reach)));

/** The largest part from corner to corner, mm. */
const partSize = ({ parts }: Facts['scene']): number =>
  Math.max(...parts.map(({ own: { bounds } }) => distance(bounds.low, bounds.high)));

const wholeSize = ({ parts }: Facts['scene']): number => {
  const { low, high } = boundsAround(parts.map(({ solid }) => solid.bounds));
  return distance(low, high);
};
