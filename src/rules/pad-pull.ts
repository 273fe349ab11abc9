import { magnetPull, temperatureFactor, vacuumPull } from '../mechanics/pads.js';
import type { Gripper, MagnetGripper } from '../model/gripper.js';
import { faceThickness } from '../model/face-thickness.js';
import type { FaceName } from '../model/scalars.js';
import type { Scene } from '../model/scene.js';

/** Pull of each magnet pad on a face of a part, N, before reduction: rated pull, gap, thickness behind it, material, heat. */
const pullOfMagnet = (scene: Scene, part: number, gripper: MagnetGripper, face: FaceName): number =>
  magnetPull({
    ratedPull: gripper.pullPerPad,
    gapFactor: gripper.gapFactor,
    thickness: faceThickness(scene.parts[part]!.part.shape, face),
    ratedThickness: gripper.ratedThickness,
    materialFactor: scene.parts[part]!.part.material.magnetic,
    temperatureFactor: temperatureFactor(gripper.temperature, gripper.grade),
  });

/**
 * Pull of each pad of a gripper on a face of a part, N, before reduction: of a magnet by what it sits on, of a suction cup by
 * its area, of a jaw the force of a finger.
 */
export function pullPerPad(scene: Scene, part: number, gripper: Gripper, face: FaceName): number {
  switch (gripper.kind) {
    case 'magnet':
      return pullOfMagnet(scene, part, gripper, face);
    case 'vacuum':
      return vacuumPull({
        pressure: gripper.pressure,
        diameter: gripper.padDiameter,
        surfaceFactor: gripper.surfaceFactor,
      });
    case 'jaw':
      return gripper.force;
  }
}
