import type { Vec3 } from '../geometry/vector.js';
import { gradeLimit, type MagnetGrade } from '../mechanics/pads.js';

/** What happens to a held part when the gripper loses its power, air or current. */
export interface PowerLoss {
  /**
   * `must-stand`: the part is let go, so it must stand by itself at every moment; `stored-seconds`: the gripper keeps
   * its pull for `seconds`; `exclusion-zone`: the part may fall, and nobody and nothing may be where it can.
   */
  readonly kind: 'must-stand' | 'stored-seconds' | 'exclusion-zone';
  /** How long the pull is kept: Infinity for a magnet or spring that needs no power to hold, 0 when it is lost at once. */
  readonly seconds: number;
}

/** A named set of pads that are switched together; numbers of pads from 0. */
export interface PadGroup {
  readonly id: string;
  readonly pads: readonly number[];
}

interface GripperCommon {
  readonly id: string;
  readonly mass: number;
  /** Shift of a part when it is picked, in the pad plane, of a jaw in any direction; +- mm. */
  readonly slip: number;
  /** From the flange to the pad plane along the flange axis, mm. Of a jaw: to the face that it comes down on. */
  readonly reach: number;
  readonly envelope: { readonly length: number; readonly width: number; readonly height: number };
  /** Flange position at its stand, cell frame; the flange points straight down there. */
  readonly stand: Vec3;
  readonly padDiameter: number;
  readonly friction: number;
  /** Least distance of an arc to the rim of a pad in use, mm. */
  readonly arcDistance: number;
  /** Seconds to let go beyond the release time of the cell: demagnetising, blowing off, opening. */
  readonly releaseSeconds: number;
  readonly powerLoss: PowerLoss;
}

interface WithFlatPads extends GripperCommon {
  /** Pad centres in the pad plane, mm. */
  readonly pads: readonly (readonly [number, number])[];
  /** Empty when all pads are always in use together. */
  readonly groups: readonly PadGroup[];
  /** Share of the pull that is left after letting go. */
  readonly residual: number;
}

export interface MagnetGripper extends WithFlatPads {
  readonly kind: 'magnet';
  readonly magnet: 'permanent' | 'electro' | 'electro-permanent';
  readonly pullPerPad: number;
  readonly ratedThickness: number;
  readonly gapFactor: number;
  readonly grade: MagnetGrade;
  /** Of the magnet at work, C. */
  readonly temperature: number;
  /** Steel parts nearer than this to an energised pad count as attracted, mm. */
  readonly attractionDistance: number;
}

export interface VacuumGripper extends WithFlatPads {
  readonly kind: 'vacuum';
  /** Pressure below the air outside, kPa. */
  readonly pressure: number;
  readonly surfaceFactor: number;
  /** Force of the air blown into each cup to let go, N; 0 when the vacuum is only broken. */
  readonly blowOff: number;
}

export interface JawGripper extends GripperCommon {
  readonly kind: 'jaw';
  /** With which each of the two fingers presses, N. */
  readonly force: number;
  /** Least and greatest distance between the two finger pads, mm. */
  readonly stroke: readonly [number, number];
  /** How far the fingers reach down beside the part from the face that the gripper comes down on, mm. */
  readonly depth: number;
  readonly fingerThickness: number;
  /** How far each finger opens to come and to go, mm; undefined: to the end of its stroke. */
  readonly opensBy: number | undefined;
  /** By how much each finger drags the part along as the gripper leaves, N. */
  readonly openingDrag: number;
}

/** A gripper with pads in one plane. */
export type FlatGripper = MagnetGripper | VacuumGripper;
export type Gripper = FlatGripper | JawGripper;

/** The pads of a group, mm in the pad plane; all pads for no group or one that the gripper does not have. */
export function padsInUse(gripper: FlatGripper, group: string | undefined): FlatGripper['pads'] {
  const members = gripper.groups.find(({ id }) => id === group)?.pads;
  return members === undefined ? gripper.pads : members.map((i) => gripper.pads[i]!);
}

/** The rectangle around the pads of a group, rims included: its middle and its half lengths in the pad plane, mm. */
export function padsExtent(
  gripper: FlatGripper,
  group: string | undefined,
): { readonly middle: readonly [number, number]; readonly half: readonly [number, number] } {
  const pads = padsInUse(gripper, group);
  const along = (axis: 0 | 1): { middle: number; half: number } => {
    const [low, high] = [
      Math.min(...pads.map((pad) => pad[axis])),
      Math.max(...pads.map((pad) => pad[axis])),
    ];
    return { middle: (low + high) / 2, half: (high - low) / 2 + gripper.padDiameter / 2 };
  };
  const [x, y] = [along(0), along(1)];
  return { middle: [x.middle, y.middle], half: [x.half, y.half] };
}

/**
 * The choices of pads in use that a gripper offers: each of its groups, and all pads (no group) unless a group is
 * just that. No group alone for a gripper without any.
 */
export function groupChoices(gripper: Gripper): readonly (string | undefined)[] {
  if (gripper.kind === 'jaw' || gripper.groups.length === 0) return [undefined];
  const whole = gripper.groups.some(({ pads }) => pads.length === gripper.pads.length);
  return [...(whole ? [] : [undefined]), ...gripper.groups.map(({ id }) => id)];
}

/** Whether a gripper has the group that a grip names. */
export const hasGroup = (gripper: Gripper, group: string | undefined): boolean =>
  group === undefined || (gripper.kind !== 'jaw' && gripper.groups.some(({ id }) => id === group));

/** Whether a magnet is hotter than its grade allows. */
export const tooHot = ({ temperature, grade }: MagnetGripper): boolean => temperature > gradeLimit(grade);

export const TAKE_ACTIONS = ['magnet-on', 'vacuum-on', 'jaw-close'] as const;
export const RELEASE_ACTIONS = ['demagnetise', 'blow-off', 'vent', 'jaw-open'] as const;

/** What a gripper is told so that it takes a part. */
export const takeAction = ({ kind }: Gripper): (typeof TAKE_ACTIONS)[number] =>
  kind === 'magnet' ? 'magnet-on' : kind === 'vacuum' ? 'vacuum-on' : 'jaw-close';

/**
 * What a gripper is told so that it lets go. A magnet is switched off and demagnetised, of whatever kind it is, so that
 * little pull is left; a vacuum is blown off, or only vented where nothing is blown.
 */
export function releaseAction(gripper: Gripper): (typeof RELEASE_ACTIONS)[number] {
  if (gripper.kind === 'magnet') return 'demagnetise';
  if (gripper.kind === 'vacuum') return gripper.blowOff > 0 ? 'blow-off' : 'vent';
  return 'jaw-open';
}
