import { Kept } from '../base/kept.js';
import { has, members, setKey, withMember, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { siteId, type TackSite } from '../facts/tack-sites.js';
import { length, subtract, type Vec3 } from '../geometry/vector.js';
import type { Settings } from '../model/settings.js';
import { toleranceFeatures, type ToleranceFeature } from '../rules/distortion-features.js';
import { DistortionRun, runStage } from '../rules/distortion-run.js';
import { distortionKey } from './distortion-key.js';
import { distortionStage, shrinkingTack } from './distortion-stage.js';
import type { StageDraft } from './stage-draft.js';

/** What is there before a stage. */
export interface StageGround {
  readonly inPlace: PartSet;
  /** The part that is clamped; the newcomer itself where nothing is in place. */
  readonly first: number;
  /** Where tacks have been laid. */
  readonly laid: readonly TackSite[];
}

/** Estimates count whole hundredths of a millimetre. */
const HUNDREDTHS = 100;

/**
 * A cheap estimate of the distortion that a stage adds, for the search, which does not know what happened before. The parts
 * in place stand where they should, joined by the tacks that they have, which have shrunk already; only the tacks of this
 * stage shrink: their number, sides and levers, the thickness of the parts, the stiffness of the grip and of all that is
 * tacked so far count. Where a tolerance feature has both parts in place, this gives what the stage adds to its deviation;
 * where it has one, how far that one has gone when the other is brought to its nominal place. In the linear range these
 * shifts add up to the deviation in the end, as vectors; their sizes add up to no less.
 *
 * A feature is charged with what its shift in one stage goes beyond a share of its limit: the limit over the number of
 * parts, since every stage may add to it. It depends on nothing but the move and what is in place, as the search needs, and
 * adds up over the stages. It is no bound: nothing that is proved rests on it (best-order.ts).
 */
export class DistortionProxy {
  /** Whether any move so far was estimated above 0. */
  everAbove = false;
  private readonly features: readonly ToleranceFeature[];
  private readonly grounds: Kept<DistortionRun>;
  private readonly shifts: Kept<readonly number[]>;

  constructor(private readonly facts: Facts) {
    this.features = toleranceFeatures(facts.scene, facts.settings);
    this.grounds = new Kept(facts.keeping);
    this.shifts = new Kept(facts.keeping);
  }

  /** What a stage adds beyond the shares of the limits, in hundredths of a millimetre rounded up. */
  of(draft: StageDraft, ground: StageGround): number {
    const stages = this.facts.scene.parts.length - 1;
    const beyond = this.shiftsOf(draft, ground).reduce(
      (sum, shift, i) => sum + Math.max(0, shift - this.features[i]!.limit / stages),
      0,
    );
    const value = Math.ceil(beyond * HUNDREDTHS - 1e-6);
    if (value > 0) this.everAbove = true;
    return value;
  }

  /** How far each tolerance feature shifts in a stage, mm. */
  shiftsOf(draft: StageDraft, ground: StageGround): readonly number[] {
    if (draft.tacks.length === 0 || this.features.length === 0) return this.features.map(() => 0);
    return this.shifts.get(`${groundKey(ground)} ${distortionKey([draft])}`, () =>
      this.workedOut(draft, ground),
    );
  }

  private workedOut(draft: StageDraft, ground: StageGround): readonly number[] {
    const { scene, settings } = this.facts;
    const run = new DistortionRun(scene, settings, new Set(), this.calm(ground));
    runStage(run, distortionStage(draft));
    const inPlace = withMember(ground.inPlace, draft.part);
    const shift = (part: number, at: Vec3): Vec3 =>
      has(inPlace, part) ? run.displacement(part, at) : [0, 0, 0];
    return this.features.map(({ from, to, at }) => length(subtract(shift(to, at), shift(from, at))));
  }

  /** The parts in place where they should be, joined by tacks that do not shrink. */
  private calm(ground: StageGround): DistortionRun {
    return this.grounds.get(groundKey(ground), () => {
      const { scene, settings } = this.facts;
      const run = new DistortionRun(scene, withoutShrinkage(settings));
      const others = members(ground.inPlace).filter((part) => part !== ground.first);
      for (const part of others.length < members(ground.inPlace).length ? [ground.first, ...others] : others)
        run.join(part);
      for (const site of ground.laid) run.lay(shrinkingTack(site));
      return run;
    });
  }
}

const groundKey = ({ inPlace, first, laid }: StageGround): string =>
  `${setKey(inPlace)} ${first} ${laid.map(siteId).sort().join(' ')}`;

const withoutShrinkage = (settings: Settings): Settings => ({
  ...settings,
  distortion: { ...settings.distortion, transverse: 0, longitudinal: 0, angular: 0 },
});
