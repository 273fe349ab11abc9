import type { Judge } from '../mechanics/equilibrium.js';
import { residuals } from '../mechanics/residuals.js';
import type { Disturbance, System } from '../mechanics/system.js';
import type { ForceSet, Verdict } from '../mechanics/verdict.js';

/** Equations, cones and bounds are met within this many N, plus this share of the greatest force. */
const RESIDUAL = { newtons: 1e-3, share: 1e-5 } as const;

function greatestForce(forces: ForceSet): number {
  const all = [...forces.bearings, ...forces.links, ...forces.pads].flat(2);
  return all.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** Forces of bearings that press on nothing: what keeps to their friction keeps to that of clamping alone. */
const unpressed = ({ bearings }: System): ForceSet => ({
  ...{ gravity: 1, disturbance: 0, links: [], pads: [] },
  bearings: bearings.map(() => [[0, 0, 0]]),
});

/** Puts the forces that verdicts of one system hand out back into its equations. */
export class ForceCheck {
  private readonly byClamping: ForceSet;
  /** By how much the forces of step 1 miss what they must keep themselves. */
  private missOfStep1: number | undefined;

  constructor(
    private readonly system: System,
    private readonly judge: Pick<Judge, 'usesStep1' | 'step1'>,
  ) {
    this.byClamping = unpressed(system);
  }

  /**
   * By how much the forces of a verdict, of gravity where no load is given, miss what they must keep, N or N m; 0 where there
   * are none to look at. Friction under gravity goes by these forces themselves. That of a load goes by clamping alone, or
   * else by the forces of step 1, which must then be sound too.
   */
  missOf({ forces }: Verdict, load?: Disturbance): number {
    if (forces === undefined) return 0;
    if (load === undefined) return this.miss(forces, forces);
    const alone = this.miss(forces, this.byClamping, load);
    const step1 = alone > 0 && this.judge.usesStep1 ? this.judge.step1() : undefined;
    if (step1 === undefined) return alone;
    this.missOfStep1 ??= this.miss(step1, step1);
    return Math.max(this.missOfStep1, this.miss(forces, step1, load));
  }

  private miss(forces: ForceSet, gravityForces: ForceSet, disturbance?: Disturbance): number {
    const { worst } = residuals(this.system, forces, { disturbance, gravityForces });
    return worst <= RESIDUAL.newtons + RESIDUAL.share * greatestForce(forces) ? 0 : worst;
  }
}
