import { REFERENCE } from './reference.js';

/** What a weld shrinks by: across it and along it in mm, and the angle in radians by which it turns the parts. */
export interface WeldShrinkage {
  readonly transverse: number;
  /** Over the length of the weld. */
  readonly longitudinal: number;
  readonly angular: number;
}

/** Factors on the published figures, 1 until they are fitted to measurements. */
export type ShrinkageFactors = WeldShrinkage;

export type WeldType = 'fillet' | 'butt' | 'corner' | 'lap' | 'edge';

/** A continuous weld: leg (for a butt weld its depth), length and the thicknesses that it joins, mm. */
export interface WeldSize {
  readonly type: WeldType;
  readonly leg: number;
  readonly length: number;
  readonly thicknessA: number;
  readonly thicknessB: number;
}

/** A tack; `tributary` is the stretch of its seam that it stands for, mm. */
export interface TackSize extends WeldSize {
  readonly tributary: number;
}

const { shrinkage: FIGURES } = REFERENCE;
const INCH = 25.4;

/** Shrinkage across a butt weld, mm: 0.10 x area of the weld, mm2, over thickness, mm (Blodgett). */
export const buttTransverse = (area: number, thickness: number): number =>
  (FIGURES.buttTransverse.value * area) / thickness;

/** The same by Spraragen and Ettinger, mm: 0.2 x area over thickness + 0.05 x root opening. */
export const buttTransverseWithRoot = (area: number, thickness: number, root: number): number =>
  (FIGURES.buttTransverseWithRoot.value.area * area) / thickness +
  FIGURES.buttTransverseWithRoot.value.root * root;

/**
 * Shrinkage across a T of two continuous fillets, mm: 1.02 x leg over the thickness of the bottom plate; of an
 * intermittent weld the share of the length that is welded (that share from memory).
 */
export const filletTransverse = (leg: number, thickness: number, share = 1): number =>
  ((FIGURES.filletPairTransverse.value * leg) / thickness) * share;

/** Shrinkage across a lap of two continuous fillets, mm: 1.52 x leg over thickness. */
export const lapTransverse = (leg: number, thickness: number): number =>
  (FIGURES.lapPairTransverse.value * leg) / thickness;

/** What is left of a free shrinkage under a restraint of intensity ks: S / (1 + 0.086 ks^0.87). */
export const restrained = (free: number, restraint: number): number =>
  free / (1 + FIGURES.restraint.value.factor * restraint ** FIGURES.restraint.value.power);

/** Shrinkage along a butt weld, mm: 305 x current, A, x length over thickness x 1e-7 (King, from memory). */
export const buttLongitudinal = (current: number, length: number, thickness: number): number =>
  (FIGURES.buttLongitudinal.value * current * length) / thickness;

/**
 * Angle, radians, by which a continuous fillet turns a plate: 0.04 x leg^1.3 / thickness^2 in inches (Blodgett's
 * 0.02 W leg^1.3 / t^2 for the edge of a flange W wide, from memory), at most 3 degrees, the end of the published range
 * of single fillets: on thin plates, warm all through, the formula would go far beyond it (the cap is our choice).
 */
export const filletAngle = (leg: number, thickness: number): number =>
  Math.min(
    (FIGURES.filletAngle.value * (leg / INCH) ** 1.3) / (thickness / INCH) ** 2,
    (FIGURES.filletAngleRange.value.most * Math.PI) / 180,
  );

/**
 * Angle, radians, by which a butt weld from one side turns the parts: shrinkage across it over its depth, as if the
 * face shrank by one and a half times as much as the middle and the root by half (our estimate: a V of 60 degrees
 * through the whole thickness then turns by 3.3 degrees, and 3 to 5 are published).
 */
export const buttAngle = (transverse: number, depth: number): number => transverse / depth;

/** Area of a V of 60 degrees, mm2, by its depth. */
const vArea = (depth: number): number => depth ** 2 * Math.tan(Math.PI / 6);

const filletArea = (leg: number): number => leg ** 2 / 2;

/**
 * Free shrinkage of a continuous weld from one side. By type: `fillet` and `corner` take half of what a pair of fillets
 * shrinks by, `lap` half of its pair, `butt` a V of 60 degrees and `edge` a fillet's area by the formula of butt welds.
 * Thickness is that of the thinner part, which errs large. Along the weld: 0.8 mm (butt 3 mm) per 3 m. What
 * is halved, which formula stands for corner and edge, and the V are our assumptions.
 */
export function weldShrinkage(weld: WeldSize, factors: ShrinkageFactors): WeldShrinkage {
  const thickness = Math.min(weld.thicknessA, weld.thicknessB);
  const { transverse, angular } = acrossBy[weld.type](weld.leg, thickness);
  const perLength = FIGURES.longitudinal.value[weld.type === 'butt' ? 'butt' : 'fillet'];
  return {
    transverse: transverse * factors.transverse,
    longitudinal: perLength * weld.length * factors.longitudinal,
    angular: angular * factors.angular,
  };
}

/**
 * Shrinkage of a tack: that of a continuous weld times its length over the stretch of seam that it stands for, never
 * more than the whole. Published figures are for continuous welds; applying them to tacks by length is our assumption.
 */
export function tackShrinkage(tack: TackSize, factors: ShrinkageFactors): WeldShrinkage {
  const share = Math.min(1, tack.length / tack.tributary);
  const whole = weldShrinkage(tack, factors);
  return { ...whole, transverse: whole.transverse * share, angular: whole.angular * share };
}

type Across = Omit<WeldShrinkage, 'longitudinal'>;

const likeFillet = (leg: number, thickness: number): Across => ({
  transverse: filletTransverse(leg, thickness) / 2,
  angular: filletAngle(leg, thickness),
});

const likeButt = (area: number, depth: number, thickness: number): Across => {
  const transverse = buttTransverse(area, thickness);
  return { transverse, angular: buttAngle(transverse, depth) };
};

const acrossBy: Record<WeldType, (leg: number, thickness: number) => Across> = {
  fillet: likeFillet,
  corner: likeFillet,
  lap: (leg, thickness) => ({
    transverse: lapTransverse(leg, thickness) / 2,
    angular: filletAngle(leg, thickness),
  }),
  butt: (leg, thickness) => likeButt(vArea(leg), leg, thickness),
  edge: (leg, thickness) => likeButt(filletArea(leg), leg, thickness),
};

/** Arc processes by the share of the arc's energy that the standard counts. */
export type ArcProcess = keyof typeof REFERENCE.arcEfficiency.value;

/** Heat input, kJ/mm: k U I / (1000 v), with volts, amperes and the travel speed in mm/s (EN 1011-1). */
export const heatInput = (process: ArcProcess, volts: number, amperes: number, speed: number): number =>
  (REFERENCE.arcEfficiency.value[process] * volts * amperes) / (1000 * speed);
