import type { BuildPattern } from '../../model/build-pattern.js';
import type { FamilyResult, MatrixField, VariantResult } from '../../model/family-result.js';

/** A result of a family with what its report looks up again and again. */
export interface FamilyView {
  readonly result: FamilyResult;
  /** Of the table that was given, in its order. */
  readonly ordered: readonly VariantResult[];
  /** Made of the ends and middles of the ranges. */
  readonly places: readonly VariantResult[];
  readonly chosen: readonly BuildPattern[];
  readonly others: readonly BuildPattern[];
  /** The pattern that builds a variant; undefined where none does. */
  readonly builtBy: (variant: string) => string | undefined;
  readonly field: (variant: string, pattern: string) => MatrixField | undefined;
}

export function familyView(result: FamilyResult): FamilyView {
  const { covering, patterns, variants, matrix } = result;
  const builtBy = new Map(
    covering.chosen.flatMap((one) => one.variants.map((variant) => [variant, one.pattern] as const)),
  );
  const fields = new Map(matrix.map((field) => [`${field.pattern} ${field.variant}`, field]));
  const isChosen = ({ id }: BuildPattern): boolean => covering.chosen.some(({ pattern }) => pattern === id);
  return {
    result,
    ordered: variants.filter(({ source }) => source === 'variant'),
    places: variants.filter(({ source }) => source !== 'variant'),
    chosen: patterns.filter(isChosen),
    others: patterns.filter((pattern) => !isChosen(pattern)),
    builtBy: (variant) => builtBy.get(variant),
    field: (variant, pattern) => fields.get(`${pattern} ${variant}`),
  };
}
