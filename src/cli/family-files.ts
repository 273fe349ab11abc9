import { join } from 'node:path';
import type { FamilyFiles, FamilyPlan } from '../family/result.js';
import { safeStems } from '../family/safe-stems.js';
import { canonicalText } from '../io/canonical.js';
import type { Family } from '../model/family.js';
import type { FamilyResult } from '../model/family-result.js';
import { familyPage } from '../report/family/family-page.js';
import { familyTables } from '../report/family/family-tables.js';
import type { WantedFile } from './files.js';
import { familyStyle } from './page-assets.js';

/** Folder of weldments and plans below that of the result. */
export const VARIANTS = 'variants';
/** Folder of what is kept from one call to the next. */
export const TASKS = 'tasks';

/** What files of variants with these names are called, below the folder of the result; the same on every system. */
export function filesOfVariants(variants: readonly string[]): FamilyFiles {
  const stems = safeStems(variants);
  const begin = (variant: string): string => `${VARIANTS}/${stems.get(variant)!}`;
  return {
    weldment: (variant) => `${begin(variant)}.weldment.json`,
    plan: (variant, pattern) => `${begin(variant)}.${pattern ?? 'own'}.plan.json`,
  };
}

/** Everything that is written of a family that was planned. */
export function filesOfFamily(
  out: string,
  family: Family,
  { result, plans }: { readonly result: FamilyResult; readonly plans: readonly FamilyPlan[] },
): readonly WantedFile[] {
  const at = (file: string): string => join(out, ...file.split('/'));
  return [
    { file: at('family.json'), text: canonicalText(result) },
    { file: at('family.html'), text: familyPage(result, familyStyle()) },
    ...familyTables(result).map(({ file, text }) => ({ file: at(file), text })),
    ...result.variants.flatMap((variant) => {
      const text = weldmentText(family, variant);
      const { weldmentFile } = variant;
      return text === undefined || weldmentFile === null ? [] : [{ file: at(weldmentFile), text }];
    }),
    ...plans.flatMap(({ file, plan }) =>
      file === null ? [] : [{ file: at(file), text: canonicalText(plan) }],
    ),
  ];
}

/** The weldment of a variant of the table, or of a place in the ranges. */
const weldmentText = (
  { variants, variantOf }: Family,
  { name, values }: FamilyResult['variants'][number],
): string | undefined => (variants.find((one) => one.name === name) ?? variantOf(name, values).variant)?.text;
