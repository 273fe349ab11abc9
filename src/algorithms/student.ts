/**
 * Chance that the magnitude of Student's t stays below `t` = tan(`angle`) sqrt(`freedom`), for a whole number of
 * degrees of freedom: the closed trigonometric sums of Abramowitz and Stegun, Handbook of Mathematical Functions,
 * 26.7.3 and 26.7.4 (from memory).
 */
function chanceWithin(angle: number, freedom: number): number {
  const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
  const odd = freedom % 2 === 1;
  let [term, sum] = [odd ? cosine : 1, 0];
  for (let power = odd ? 1 : 0; power <= freedom - 2; power += 2) {
    sum += term;
    term *= ((power + 1) / (power + 2)) * cosine * cosine;
  }
  return odd ? (2 / Math.PI) * (angle + sine * sum) : sine * sum;
}

/**
 * Quantile of Student's t: the value that t stays below with the given chance.
 * @param chance between 0 and 1, exclusive
 * @param freedom degrees of freedom, a whole number from 1 on
 */
export function studentQuantile(chance: number, freedom: number): number {
  if (!(chance > 0 && chance < 1)) throw new RangeError(`a chance between 0 and 1 is needed, not ${chance}`);
  if (!Number.isInteger(freedom) || freedom < 1)
    throw new RangeError(`degrees of freedom are a whole number from 1 on, not ${freedom}`);
  const within = Math.abs(2 * chance - 1);
  let [low, high] = [0, Math.PI / 2];
  // The chance grows with the angle, so that halving finds it to the last bit.
  for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (chanceWithin(middle, freedom) < within) low = middle;
    else high = middle;
  }
  return Math.sign(chance - 0.5) * Math.tan(low) * Math.sqrt(freedom);
}
