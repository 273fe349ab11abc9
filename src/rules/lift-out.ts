import { axisX, axisY } from '../geometry/pose.js';
import { negate, scale, type Vec3 } from '../geometry/vector.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { hangingPieces } from './bodies.js';
import type { PartLoad } from './load-cases.js';

/**
 * The finished tack-up is lifted out by the parts that stand on the table, of sub-assemblies by those members of them (slings or
 * forks under them), which count as fixed: all else is heavier by the acceleration, or left behind to one of four sides of the
 * weldment frame.
 */
export function liftOutLoads(scene: Scene, parts: readonly number[], settings: Settings): PartLoad[] {
  const acceleration = settings.loads['lift-acceleration'];
  if (acceleration === 0) return [];
  const hanging = hangingPieces(scene, parts);
  if (hanging.length === 0) return [];
  const { turn } = scene.cell.weldmentPose;
  const ways: readonly (readonly [string, Vec3])[] = [
    ['up', [0, 0, -1]],
    ['+x', negate(axisX(turn))],
    ['-x', axisX(turn)],
    ['+y', negate(axisY(turn))],
    ['-y', axisY(turn)],
  ];
  return ways.map(([way, direction]) => ({
    name: `lift-out ${way}`,
    forces: hanging.map(({ part, member, mass, solid }) => ({
      ...{ part, member },
      force: scale(direction, mass * acceleration),
      at: solid.centre,
    })),
  }));
}
