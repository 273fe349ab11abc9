import { judge } from '../mechanics/equilibrium.js';
import type { Pose } from '../geometry/pose.js';
import { place } from '../geometry/pose.js';
import { shapeSolid } from '../model/part-geometry.js';
import { gripFlange, padsInCell } from '../model/placement.js';
import type { Refusal } from '../model/verdict.js';
import { pullPerPad } from '../rules/assembly.js';
import type { Facts } from './facts.js';
import type { Grip } from './grips.js';

/** Whether the pads alone carry the part's weight in a pose with the required reserve; the refusal if not. */
export function carries(
  { scene, settings, programs }: Pick<Facts, 'scene' | 'settings' | 'programs'>,
  part: number,
  grip: Grip,
  pose: Pose,
): Refusal | undefined {
  const { part: own, mass } = scene.parts[part]!;
  const { centres, into } = padsInCell(own.shape, pose, grip, grip.gripper);
  const { friction, pull } = settings.reductions;
  const { payload } = scene.cell.handler;
  const { gravity } = judge(
    programs,
    {
      bodies: [{ mass, centre: place(pose, shapeSolid(own.shape).centre) }],
      bearings: [],
      links: [],
      pads: centres.map((at) => ({
        body: 0,
        hold: 0,
        at,
        normal: into,
        radius: grip.gripper.padDiameter / 2,
        pull: pullPerPad(scene, part, grip.gripper) * pull,
        friction: grip.gripper.friction * friction,
      })),
      holds: [
        {
          force: payload.force,
          moment: payload.moment,
          at: gripFlange(own.shape, pose, grip, grip.gripper).at,
        },
      ],
    },
    [],
  );
  const required = settings.reserves.gravity;
  if (gravity.reserve >= required) return undefined;
  return {
    code: 'grip-slips',
    subjects: [own.id, grip.gripper.id, grip.face],
    value: gravity.reserve,
    limit: required,
    unit: 'reserve',
  };
}
