import { rounded } from '../base/order.js';
import { REFERENCE } from '../mechanics/reference.js';
import { thicknessFactor } from '../mechanics/pads.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import { faceThickness } from '../model/face-thickness.js';
import { padsInUse, type Gripper } from '../model/gripper.js';
import type { Scene } from '../model/scene.js';
import { pullPerPad } from '../rules/pad-pull.js';
import type { Grip } from './grips.js';

/** How a grip compares with what is asked of crane attachments. A benchmark: nothing is refused for it. */
export interface Lifting {
  readonly gripper: string;
  readonly face: string;
  /** Pull of all pads in use together, before any reduction, N. */
  readonly pull: number;
  /** Share of a magnet's pull that the thickness of the part leaves; 1 for other grippers. */
  readonly thicknessShare: number;
  /** Thickness of the part and that for which the magnet is rated, mm; undefined for other grippers. */
  readonly thickness: { readonly part: number; readonly rated: number } | undefined;
  /** Pull over weight. */
  readonly factor: number;
  /** The published factor and of what it is asked. */
  readonly asked: { readonly factor: number; readonly of: string };
}

function askedOf(gripper: Exclude<Gripper, { kind: 'jaw' }>): Lifting['asked'] {
  const { permanentMagnet, electromagnet, vacuum } = REFERENCE.liftingFactors;
  if (gripper.kind === 'vacuum') return { factor: vacuum.value, of: 'vacuum' };
  return gripper.magnet === 'electro'
    ? { factor: electromagnet.value, of: 'electromagnets' }
    : { factor: permanentMagnet.value, of: 'permanent magnets' };
}

/** Pull over weight of a grip beside the published factor of its kind; undefined for a jaw, for which none is known. */
export function liftingOf(scene: Scene, part: number, grip: Grip): Lifting | undefined {
  const { gripper, face, group } = grip;
  if (gripper.kind === 'jaw') return undefined;
  const { mass, part: own } = scene.parts[part]!;
  const thickness = faceThickness(own.shape, face);
  const pull = pullPerPad(scene, part, gripper, face) * padsInUse(gripper, group).length;
  const rated = gripper.kind === 'magnet' ? gripper.ratedThickness : undefined;
  return {
    gripper: gripper.id,
    face,
    pull: rounded(pull, 3),
    thicknessShare: rated === undefined ? 1 : thicknessFactor(thickness, rated),
    thickness: rated === undefined ? undefined : { part: thickness, rated },
    factor: rounded(pull / (mass * STANDARD_GRAVITY), 3),
    asked: askedOf(gripper),
  };
}
