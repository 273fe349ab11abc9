import { compose, inverse, NO_TURN, type Pose } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import type { Handler, Welder } from '../model/cell.js';
import type { Gripper } from '../model/gripper.js';
import { envelopeOf } from '../model/gripper-solid.js';
import { gripperSolid, padFrame, wholeTorch, type GripPlace } from '../model/placement.js';
import type { PlacedPart } from '../model/scene.js';
import type { LoadedArm, LoadPiece } from './arm-course.js';

/** A grip of a program: which part, how, by which gripper. */
export interface TakenPart {
  readonly part: number;
  readonly placed: PlacedPart;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
}

const gripperName = ({ id }: Gripper): string => `gripper ${id}`;

/** Pose of the part in the flange frame of the robot that carries it. */
export const carriedPose = ({ placed, grip, gripper }: TakenPart): Pose =>
  inverse(compose(padFrame(placed.part.shape, grip), { at: [0, 0, -gripper.reach], turn: NO_TURN }));

/** A gripper, with its fingers as they are for a grip, and the part itself if it is carried. */
export function gripLoad(taken: TakenPart, carries: boolean): readonly LoadPiece[] {
  const { placed, grip, gripper } = taken;
  const { shape, id } = placed.part;
  const partAtFlange = carriedPose(taken);
  const tool = gripperSolid(shape, partAtFlange, grip, gripper).pieces;
  const part = carries ? placeSolid(placed.own, partAtFlange).pieces : [];
  return [
    ...tool.map((piece) => ({ name: gripperName(gripper), piece, carried: false })),
    ...part.map((piece) => ({ name: `part ${id}`, piece, carried: true })),
  ];
}

/** The envelope of a gripper, without fingers: no grip says how far they are apart. */
export const bareGripperLoad = (gripper: Gripper): readonly LoadPiece[] =>
  placeSolid(envelopeOf(gripper), { at: [0, 0, gripper.reach], turn: NO_TURN }).pieces.map((piece) => ({
    name: gripperName(gripper),
    piece,
    carried: false,
  }));

export const torchLoad = ({ torch }: Welder): readonly LoadPiece[] =>
  wholeTorch(torch.tip, torch).map((piece) => ({
    name: 'torch',
    piece,
    carried: false,
  }));

/** A robot with what is fixed to its flange. */
export const loadedArm = ({ base, arm, radii }: Handler | Welder, load: readonly LoadPiece[]): LoadedArm => ({
  body: { base, arm, radii, tool: load.map(({ name, piece }) => ({ name, points: piece.vertices })) },
  load,
});
