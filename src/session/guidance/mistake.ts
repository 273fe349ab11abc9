/** What is likely to be a mistake, and where in the weldment or the cell file. */
export interface Mistake {
  readonly path: readonly (string | number)[];
  readonly code: string;
  readonly problem: string;
  readonly remedy: string;
}

/** A length or mass as warnings show it: at most two decimals. */
export const short = (value: number): string => `${Math.round(value * 100) / 100}`;
