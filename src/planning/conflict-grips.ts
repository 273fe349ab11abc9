import { Kept } from '../base/kept.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { Handler } from '../model/cell.js';
import type { Refusal } from '../model/verdict.js';

/** A grip that is asked about, and why its gripper cannot take the part so; undefined where it can. */
export interface AskedGrip {
  readonly grip: Grip;
  readonly refusal: Refusal | undefined;
}

/** Refusals of a grip that another place on the part would not mend: what gripper and wrist carry. */
const BY_LOAD: readonly string[] = [
  'payload',
  'wrist-moment',
  'wrist-inertia',
  'not-magnetic',
  'magnet-too-hot',
];
/** Refusals of carrying a part, which depend on how it hangs. */
const BY_CARRYING: readonly string[] = ['grip-slips', 'grip-gives-way'];

/** Whether a motion is refused because the pads do not carry the part, and not because of the arm. */
export const isByCarrying = ({ code }: Refusal): boolean => BY_CARRYING.includes(code);

/** Most refused grips of one gripper on one arm that are asked about as if it could; our choice. */
const MOST_REFUSED = 24;

/** Some of a list, evenly spread. */
const spread = <T>(all: readonly T[], most: number): readonly T[] =>
  all.length <= most
    ? all
    : Array.from({ length: most }, (_, i) => all[Math.floor((i * all.length) / most)]!);

/**
 * The grips of a part that explaining asks about, where what a gripper can take may count as met: all that can be used; beside
 * them some that only its capacity rules out, and where it has none of either, some on which its pads do not fit.
 */
export class AskedGrips {
  private readonly kept = new Kept<readonly AskedGrip[]>();
  private readonly matters = new Kept<boolean>();

  constructor(private readonly facts: Facts) {}

  /** Whether the file lets a gripper take a part; it may give the part its own grips, and then only these are considered. */
  allows(part: number, gripper: string): boolean {
    const { grips } = this.facts.scene.parts[part]!.part;
    return grips === undefined || grips.some((given) => given.gripper === gripper);
  }

  /** Those of one gripper on one arm; none where it finds no place on the part at all. */
  of(part: number, robot: Handler, gripper: string): readonly AskedGrip[] {
    return this.kept.get(`${part} ${robot.id} ${gripper}`, () => {
      const own = this.facts
        .grips(part)
        .filter(({ candidate }) => candidate.robot === robot && candidate.gripper.id === gripper);
      const having = (codes: readonly string[]): readonly AskedGrip[] =>
        spread(
          own.filter(({ refusal }) => refusal !== undefined && codes.includes(refusal.code)),
          MOST_REFUSED,
        ).map(({ candidate, refusal }) => ({ grip: candidate, refusal }));
      const usable = own.flatMap(({ candidate, refusal }) =>
        refusal ? [] : [{ grip: candidate, refusal: undefined }],
      );
      const found = [...usable, ...having(BY_LOAD)];
      return found.length > 0 ? found : having(['footprint']);
    });
  }

  /** Whether the capacity of a gripper stands against any grip of a part, anywhere. */
  capacityMatters(part: number, gripper: string): boolean {
    return this.matters.get(`${part} ${gripper}`, () => {
      const { facts } = this;
      if (!this.allows(part, gripper)) return false;
      const { handlers } = facts.scene.cell;
      const poses = [
        ...facts.spots(part).map(({ pose }) => pose),
        ...facts.everyAngle.map(({ scene }) => scene.parts[part]!.pose),
      ];
      return handlers.some((robot) => {
        const all = this.of(part, robot, gripper);
        return (
          all.length === 0 ||
          all.some(
            ({ grip, refusal }) =>
              refusal !== undefined ||
              poses.some((pose) => facts.carryRefusal(part, grip, pose) !== undefined),
          )
        );
      });
    });
  }
}
