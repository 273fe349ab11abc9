import type { ManualPlanTack, Stage } from '../model/plan.js';

/** What every tack has, whoever lays it. */
export type StatedTack = ManualPlanTack;

/** All tacks that a stage lays, by robots or by a person. */
export const everyTack = ({ tacks, manual }: Pick<Stage, 'tacks' | 'manual'>): readonly StatedTack[] => [
  ...tacks,
  ...(manual?.tacks ?? []),
];

/** The same with where the plan states each; `where` is that of the stage. */
export const tacksWithWhere = (
  { tacks, manual }: Pick<Stage, 'tacks' | 'manual'>,
  where: string,
): readonly { readonly tack: StatedTack; readonly where: string }[] => [
  ...tacks.map((tack, i) => ({ tack, where: `${where}.tacks[${i}]` })),
  ...(manual?.tacks ?? []).map((tack, i) => ({ tack, where: `${where}.manual.tacks[${i}]` })),
];

/** The list of a stage that its tacks are in; `where` is that of the stage. */
export const tackListOf = ({ manual }: Pick<Stage, 'manual'>, where: string): string =>
  manual === undefined ? `${where}.tacks` : `${where}.manual.tacks`;
