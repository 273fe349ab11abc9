import { place, rotate, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Disturbance, System } from './system.js';

/**
 * The same system seen from another frame; `pose` takes points of the old frame to the new one and must leave the
 * vertical upright. Octagons of friction and limits of holds lie along the axes of the frame, so that a frame that
 * goes with the bodies gives answers that go with them too.
 */
export function movedSystem(system: System, pose: Pose): System {
  const point = (p: Vec3): Vec3 => place(pose, p);
  const way = (v: Vec3): Vec3 => rotate(pose.turn, v);
  return {
    ...system,
    bodies: system.bodies.map((body) => ({ ...body, centre: point(body.centre) })),
    bearings: system.bearings.map((bearing) => ({
      ...bearing,
      corners: bearing.corners.map(point),
      normal: way(bearing.normal),
    })),
    links: system.links.map((link) => ({ ...link, at: point(link.at), along: way(link.along) })),
    pads: system.pads.map((pad) => ({ ...pad, at: point(pad.at), normal: way(pad.normal) })),
    holds: system.holds.map((hold) => ({ ...hold, at: point(hold.at) })),
  };
}

/** The same disturbance seen from another frame. */
export const movedDisturbance = ({ name, forces }: Disturbance, pose: Pose): Disturbance => ({
  name,
  forces: forces.map(({ body, force, at }) => ({
    body,
    force: rotate(pose.turn, force),
    at: place(pose, at),
  })),
});
