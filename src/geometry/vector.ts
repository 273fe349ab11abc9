/** A point or direction in millimetres (or unitless), right-handed, z up. */
export type Vec3 = readonly [number, number, number];

export const ORIGIN: Vec3 = [0, 0, 0];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, factor: number): Vec3 => [a[0] * factor, a[1] * factor, a[2] * factor];
export const negate = (a: Vec3): Vec3 => [-a[0], -a[1], -a[2]];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.sqrt(dot(a, a));
export function distance(a: Vec3, b: Vec3): number {
  const x = a[0] - b[0];
  const y = a[1] - b[1];
  const z = a[2] - b[2];
  return Math.sqrt(x * x + y * y + z * z);
}

/** The unit vector along `a`; throws a RangeError for a zero vector, which no caller may pass. */
export function unit(a: Vec3): Vec3 {
  const size = length(a);
  if (size === 0) throw new RangeError('a zero vector has no direction');
  return scale(a, 1 / size);
}

/** `a + b * factor`. */
export const along = (a: Vec3, b: Vec3, factor: number): Vec3 => [
  a[0] + b[0] * factor,
  a[1] + b[1] * factor,
  a[2] + b[2] * factor,
];

/** Any unit vector at right angles to the unit vector `a`, chosen the same way every time. */
export function perpendicular(a: Vec3): Vec3 {
  const [x, y, z] = [Math.abs(a[0]), Math.abs(a[1]), Math.abs(a[2])];
  const axis: Vec3 = x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1];
  return unit(cross(a, axis));
}

/** The same vector with 0 for every -0, so that equal vectors also print and compare alike. */
export const withPlainZeros = (a: Vec3): Vec3 => [a[0] + 0, a[1] + 0, a[2] + 0];
