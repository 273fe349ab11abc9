/**
 * Greatest force on one of `count` equal tacks spread evenly around the end of a tube, N: an equal share of the shear, and
 * the share of the bending moment (N mm) of the tack farthest from the axis of bending, 2 M / (n r). With three tacks or
 * more the sum of the squared distances is n r^2 / 2 about every axis in the plane of the tacks, as for a ring treated
 * as a line (d^3 pi / 8 over its length pi d; Blodgett, from memory), so that no direction is worse than another. Both
 * shares are added as if they had the same direction, which errs high. `radius` in mm.
 */
export const roundTackForce = (moment: number, shear: number, radius: number, count: number): number =>
  shear / count + (2 * moment) / (count * radius);
