/** Orders strings by code unit, independent of locale. */
export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Orders integer vectors lexicographically; missing entries count as zero. */
export function compareVectors(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const length = Math.max(a.length, b.length);
  for (let i = 0; i < length; i += 1) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

/** Rounds to a multiple of `grain` so that a last bit never decides a comparison; never gives -0. */
export function snap(value: number, grain: number): number {
  const snapped = Math.round(value / grain) * grain;
  return Object.is(snapped, -0) ? 0 : snapped;
}

/** Rounds to `digits` decimals for output; never gives -0. */
export function rounded(value: number, digits: number): number {
  const scale = 10 ** digits;
  const result = Math.round(value * scale) / scale;
  return Object.is(result, -0) ? 0 : result;
}
