export const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** Wall-clock seconds that work takes. */
export const seconds = (work: () => void): number => {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
};

/** Medians are printed in milliseconds below a tenth of a second. */
export const row = (name: string, values: readonly number[], note = ''): void => {
  const value = median(values);
  const text = value < 0.1 ? `${(value * 1000).toFixed(2)} ms` : `${value.toFixed(3)} s `;
  console.log(`${name.padEnd(52)} ${text.padStart(10)}  ${note}`.trimEnd());
};
