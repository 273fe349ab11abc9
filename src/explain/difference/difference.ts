import type { GeometricPlan, Plan, PlanWish } from '../../model/plan.js';
import type { Wish } from '../../model/wish.js';
import { objectiveDifference, type ObjectiveDifference } from './objective.js';
import { orderDifference, type OrderDifference } from './order.js';
import { settingsDifference } from './settings.js';
import { same, type Change, type Sides } from './sides.js';
import { stageDifferences, type StageDifference } from './stages.js';
import { tackDifferences, type SeamDifference } from './tacks.js';
import { timelineDifference, type TimelineDifference } from './timeline.js';

interface Named {
  readonly name: string;
  readonly digest: string;
}

/** How a plan B differs from a plan A. Exchanging the two exchanges every `a` and `b`, and nothing else. */
export interface PlanDifference {
  /** Nothing at all differs. */
  readonly same: boolean;
  /** Present where one has shapes and the other has none. */
  readonly kind?: Sides<Plan['kind']>;
  /** The inputs that the plans were made for, where they differ; null: made without. */
  readonly inputs: readonly {
    readonly what: 'weldment' | 'cell';
    readonly a: Named | null;
    readonly b: Named | null;
  }[];
  readonly settings: readonly Change[];
  readonly objective: ObjectiveDifference;
  readonly order: OrderDifference;
  readonly stages: readonly StageDifference[];
  /** Of plans with shapes. */
  readonly tacks: readonly SeamDifference[];
  readonly timeline?: TimelineDifference;
  readonly handshakes?: Sides<number>;
  /** Wishes that one plan keeps and the other breaks; null: not wished there. */
  readonly wishes: readonly { readonly wish: Wish; readonly a: boolean | null; readonly b: boolean | null }[];
  /** Lines of warnings that only one plan has. */
  readonly warnings: Sides<readonly string[]>;
  /** Sections of the documents in which more differs than the fields above tell, as poses and steps. */
  readonly elsewhere: readonly string[];
}

function inputsOf(a: Plan, b: Plan): PlanDifference['inputs'] {
  const cell = (plan: Plan): Named | null => (plan.kind === 'geometric' ? plan.cell : null);
  const pairs = [
    { what: 'weldment' as const, a: a.weldment, b: b.weldment },
    { what: 'cell' as const, a: cell(a), b: cell(b) },
  ];
  return pairs.filter((pair) => !same(pair.a, pair.b));
}

/** What only plans with shapes have. */
function shapesDifference(
  a: GeometricPlan,
  b: GeometricPlan,
): Pick<PlanDifference, 'tacks' | 'timeline' | 'handshakes'> {
  const timeline = timelineDifference(a, b);
  const handshakes = { a: a.handshakes.length, b: b.handshakes.length };
  return {
    tacks: tackDifferences(a, b),
    ...(timeline && { timeline }),
    ...(handshakes.a !== handshakes.b && { handshakes }),
  };
}

/** Wishes that are not kept, or not wished, by both alike: in the order of A, then what only B has. */
function wishesOf(a: readonly PlanWish[], b: readonly PlanWish[]): PlanDifference['wishes'] {
  const kept = (wishes: readonly PlanWish[], wish: Wish): boolean | null =>
    wishes.find((one) => same(one.wish, wish))?.kept ?? null;
  const only = b.filter(({ wish }) => kept(a, wish) === null);
  return [...a, ...only]
    .map(({ wish }) => ({ wish, a: kept(a, wish), b: kept(b, wish) }))
    .filter((one) => one.a !== one.b);
}

/** Sections in which two documents differ. */
function sections(a: Plan, b: Plan): string[] {
  const [one, other] = [a, b] as unknown as [Record<string, unknown>, Record<string, unknown>];
  return [...new Set([...Object.keys(one), ...Object.keys(other)])]
    .filter((key) => !same(one[key], other[key]))
    .sort();
}

/** Compares two plans, of any kind and for the same weldment or not. */
export function differenceOf(a: Plan, b: Plan): PlanDifference {
  const differing = sections(a, b);
  const only = (these: readonly string[], those: readonly string[]): string[] =>
    these.filter((line) => !those.includes(line));
  const objective = objectiveDifference(a, b);
  const shapes: Pick<PlanDifference, 'tacks' | 'timeline' | 'handshakes'> =
    a.kind === 'geometric' && b.kind === 'geometric' ? shapesDifference(a, b) : { tacks: [] };
  const warnings = { a: only(a.warnings, b.warnings), b: only(b.warnings, a.warnings) };
  const told = [
    ...['kind', 'weldment', 'cell', 'settings', 'wishes'],
    ...(objective.terms.length > 0 ? ['objective'] : []),
    ...(shapes.timeline ? ['timeline'] : []),
    ...(warnings.a.length + warnings.b.length > 0 ? ['warnings'] : []),
  ];
  return {
    same: differing.length === 0,
    ...(a.kind !== b.kind && { kind: { a: a.kind, b: b.kind } }),
    inputs: inputsOf(a, b),
    settings: settingsDifference(a.settings, b.settings),
    objective,
    order: orderDifference(a, b),
    stages: stageDifferences(a, b),
    ...shapes,
    wishes: wishesOf(a.wishes ?? [], b.wishes ?? []),
    warnings,
    elsewhere: differing.filter((key) => !told.includes(key)),
  };
}
