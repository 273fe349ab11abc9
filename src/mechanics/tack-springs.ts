import { along as onward, cross, dot, scale, add, type Vec3 } from '../geometry/vector.js';
import type { Spring } from './point-store.js';
import type { WeldShrinkage } from './shrinkage.js';

/** The metal of one tack between two bodies. Lengths in mm, modulus and yield strength in MPa. */
export interface TackMetal {
  /** Body number or GROUND. */
  readonly a: number;
  readonly b: number;
  /** Middle of the root line. */
  readonly at: Vec3;
  /** Unit vector along the root line. */
  readonly along: Vec3;
  /** Unit vector from the root to the middle of the face: the bisector of the open side. */
  readonly open: Vec3;
  readonly length: number;
  readonly throat: number;
  readonly modulus: number;
  readonly yield: number;
  /** Unit vector in which b is drawn toward a across the weld; neither along the root line nor along `open`. */
  readonly pull: Vec3;
  readonly shrinkage: WeldShrinkage;
}

/** Half of a quarter each side of the middle: where the two points of a direction stand. */
const QUARTER = 1 / 4;

/**
 * The springs of one tack, born where the parts are: four points at a quarter of the length along on either side of
 * its middle and a quarter of the throat on either side of the middle of the throat. Each yields at a quarter of
 * yield strength x length x throat, so that the tack carries F L / 4 as a plastic moment in its line and
 * yield L throat^2 / 4 about its own line. Stiffness: modulus x length x throat over a gauge length, for which one
 * throat is taken (our estimate: the metal that stretches is about as wide as it is thick), a quarter at each point.
 *
 * Shrinkage, as a displacement of b against a that the tack takes wholly where nothing hinders it: `transverse` along
 * `pull` over the whole throat; `angular` as a turn of b about the root line, which itself does not shrink, so that the
 * face closes: b leans toward the side of the tack. `longitudinal` is not in it: metal that grows shorter along the
 * line pulls both parts alike toward its middle, so its forces cancel on each rigid part; it bows parts (`bow.ts`).
 * Throws a RangeError when `pull` lies in the plane of the throat, for the side that closes is then unknown.
 */
export function tackSprings(tack: TackMetal): Spring[] {
  const { a, b, at, along, open, length, throat, modulus, pull, shrinkage } = tack;
  const closing = dot(cross(along, open), pull);
  if (Math.abs(closing) < 1e-6) throw new RangeError('the pull of a tack lies in the plane of its throat');
  const turn = scale(along, Math.sign(closing) * shrinkage.angular);
  const stiffness = (modulus * length) / 4;
  const most = (tack.yield * length * throat) / 4;
  return [-QUARTER, QUARTER].flatMap((share) =>
    [QUARTER, 3 * QUARTER].map((depth) => {
      const arm = onward(scale(along, share * length), open, depth * throat);
      const shrink = onward(cross(turn, arm), pull, shrinkage.transverse);
      return { a, b, at: add(at, arm), stiffness, most, shrink };
    }),
  );
}
