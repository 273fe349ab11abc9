import type { Issue } from './issue.js';
import type { ParameterValue } from './family-result.js';

/** A parameter of a family; with a range anything between its ends may be ordered. */
export interface FamilyParameter {
  readonly name: string;
  readonly unit?: string | undefined;
  readonly range?:
    { readonly low: number; readonly high: number; readonly resolution: number | undefined } | undefined;
}

/** One member of a family: the values of its parameters, and the weldment that they give, as the text of a weldment file. */
export interface Variant {
  readonly name: string;
  readonly values: Readonly<Record<string, ParameterValue>>;
  /** A whole weldment file as canonical JSON; what `readWeldment` reads. */
  readonly text: string;
}

/** A family file that was read: its parameters, its variants in the order of the table, and how others are made. */
export interface Family {
  readonly name: string;
  readonly digest: string;
  readonly parameters: readonly FamilyParameter[];
  readonly variants: readonly Variant[];
  /** The variant with these values, for places in the ranges; issues where the base gives no weldment for them. */
  readonly variantOf: (
    name: string,
    values: Readonly<Record<string, ParameterValue>>,
  ) => { readonly variant: Variant | undefined; readonly issues: readonly Issue[] };
}
