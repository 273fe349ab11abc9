import type { GeometricPlan, PlanDistortion, StageDistortion } from '../model/plan.js';
import type { Settings } from '../model/settings.js';
import { replayed, type Replayed } from '../rules/distortion-replay.js';

/** What the prediction takes for granted, in the plan's words. */
export const DISTORTION_ASSUMPTIONS: readonly string[] = [
  'a screening estimate: it compares orders, holds and tacks, and says where to measure; it replaces no measurement',
  'every part is rigid; plates neither bend nor buckle, and only slender members bow, by a published formula, in the end',
  'a tack shrinks by the published value of a continuous weld, times its length over the stretch of seam that it stands for: the seam or the greatest pitch of the tack rules, whichever is less (our assumption)',
  'a tack is stress-free in the shape in which it is laid, then shrinks at once and cold, and yields where its force reaches the yield of the weaker steel; heat, residual stress and the softness of hot metal are left out',
  'parts push where they bear, and over a root gap once it has closed; they neither pull nor rub',
  'a part that is brought comes to its nominal place whatever the others have done by then; what overlaps there is pushed apart',
  'a part that nobody holds presses with its weight on what bears it from below; a weight that tacks or arms carry is left out',
  'a hold is as stiff as its arm is said to be, alike in every direction, and slips at the friction of its pads under their full pull; clamps of the first part do not slip, and where there are none it is kept by the friction of the table',
  'a part without a hold that no tack joins to others is pushed by what bears on it and else stays where it is',
  'the deviation of a tolerance feature is the whole shift of one origin as seen from the other part, not only the change of their distance; cut lengths and the accuracy of handling come on top',
  'ISO 13920 is for the finished weldment; tacking may use up only the share of it that the settings say, since the full welds follow',
  'tacks that are repeated because they were reported bad are left out',
];

/** A stage before its distortion is predicted. */
export const NO_STAGE_DISTORTION: StageDistortion = { steps: [], openings: [] };

/** A plan before its distortion is predicted. */
export const unpredicted = ({ distortion }: Settings): PlanDistortion => ({
  estimate: 'screening',
  assumptions: [...DISTORTION_ASSUMPTIONS],
  factors: {
    transverse: distortion.transverse,
    longitudinal: distortion.longitudinal,
    angular: distortion.angular,
  },
  features: [],
  bows: [],
  worst: null,
});

/** What there is to say where a feature uses up more than its share. */
const featureWarnings = (features: PlanDistortion['features']): string[] =>
  features
    .filter(({ within }) => !within)
    .map(
      ({ name, deviation, limit }) =>
        `tolerance ${name} is predicted to be ${deviation} mm off after tacking; ${limit} mm of the general tolerance is what tacking may use up (a screening estimate)`,
    );

/** Puts into a plan what a replay of its stages predicts; the plan as it is where it cannot be replayed. */
export function withDistortion(plan: GeometricPlan, inputs: Omit<Replayed, 'plan'>): GeometricPlan {
  const account = replayed({ ...inputs, plan });
  if (account === undefined) return plan;
  const { stages, features, bows, worst } = account;
  return {
    ...plan,
    stages: plan.stages.map((stage, i) => ({ ...stage, distortion: stages[i]! })),
    distortion: { ...plan.distortion, features, bows, worst },
    warnings: [...plan.warnings, ...featureWarnings(features)],
  };
}
