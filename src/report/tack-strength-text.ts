import type { GeometricPlan, ManualPlanTack, PlanTack } from '../model/plan.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { paragraph } from './text-table.js';

/** From the least to the greatest of some figures, one of them alone when they are shown alike. */
function span(values: readonly number[], show: (value: number) => string): string {
  const [least, most] = [show(Math.min(...values)), show(Math.max(...values))];
  return least === most ? least : `${least} to ${most}`;
}

const kilonewtons = (newtons: number): string => amount(newtons / 1000, 1);

/** What the code makes of the tacks: how many are too short to count, and what the others carry. */
function byCode(tacks: readonly (PlanTack | ManualPlanTack)[]): string {
  const carrying = tacks.filter(({ codeStrength }) => codeStrength > 0);
  const short = tacks.length - carrying.length;
  const others = `${kilonewtons(Math.min(...carrying.map(({ codeStrength }) => codeStrength)))} kN or more`;
  if (short === 0) return `by EN 1993-1-8 each of them carries ${others}, which is not used`;
  const none = `too short to count by EN 1993-1-8 (4.5.1), so by that code no load-carrying ${short === 1 ? 'weld' : 'welds'}`;
  if (carrying.length === 0) return `all of them are ${none}`;
  return `${amount(short)} of them are ${none}; each of the others carries ${others} by it, which is not used`;
}

/** How hot tacks are that a part is let go on, and what that leaves of them. */
function heat(tacks: readonly PlanTack[]): string {
  const hot = tacks.filter(({ phase }) => phase === 'securing').map((tack) => tack.hot);
  if (hot.length === 0) return '';
  const temperatures = span(
    hot.map(({ temperature }) => temperature),
    (value) => amount(value),
  );
  const factors = span(
    hot.map(({ factor }) => factor),
    (value) => amount(100 * value),
  );
  const seconds = amount(hot[0]!.seconds, 1);
  return ` When a part is let go, at least ${seconds} s after the last arc, its securing tacks are taken to be at ${temperatures} C, which leaves ${factors} % of that (a stated model of cooling, our estimate).`;
}

/** Which model carries the reserves, what the code says of the same tacks, and how hot they still are. */
export function tackStrengthLines({ stages, settings }: GeometricPlan): string[] {
  const byRobots = stages.flatMap((stage) => stage.tacks);
  const tacks = [...byRobots, ...stages.flatMap(({ manual }) => manual?.tacks ?? [])];
  if (tacks.length === 0) return [];
  const cold = span(
    tacks.map(({ strength }) => strength),
    kilonewtons,
  );
  const text =
    `the reserves rest on a temporary-strength model, ${cold} kN a tack cold, of which ${amount(settings.reductions.tack, 2)} is counted on for fusion; it is no strength by any code. ` +
    `Of ${counted(tacks.length, 'tack')}: ${byCode(tacks)}.${heat(byRobots)}`;
  return ['', ...paragraph('Strength of tacks: ', text), ...sidesLines(stages, settings.tacks.sides)];
}

/** Tacks for which the wish about the two sides of a joint could not be had. */
function sidesLines(
  stages: GeometricPlan['stages'],
  sides: GeometricPlan['settings']['tacks']['sides'],
): string[] {
  const missed = stages.flatMap(({ sidesMissed }) => sidesMissed);
  if (missed.length === 0 || sides === 'free') return [];
  const one = missed.length === 1;
  const what =
    sides === 'paired'
      ? `${one ? 'has' : 'have'} no tack opposite`
      : `${one ? 'faces' : 'face'} a tack on the other side`;
  const text = `${listed(missed.map(plain))} ${what}: sites there are blocked, or it would take more tacks, or tacks after the let-go.`;
  return paragraph('Sides: ', text);
}
