import { compareText } from '../base/order.js';
import type { BuildPattern } from '../model/build-pattern.js';
import type { Variant } from '../model/family.js';
import type { Limit } from '../model/family-result.js';
import type { GeometricPlan } from '../model/plan.js';
import type { Member } from './members.js';
import { isBuiltBy } from './other-pattern.js';
import { wayKey } from './pattern.js';
import type { FamilyTaskResult } from './task.js';
import type { TaskRun } from './task-run.js';

/** A variant built by a pattern: its plan, or why there is none; `open`: none was found, which is no proof that there is none. */
export type Field =
  { readonly plan: GeometricPlan } | { readonly reasons: readonly Limit[]; readonly open: boolean };

/** What proves that no plan by a pattern exists, within the scope of plans. */
const RULED_OUT: readonly FamilyTaskResult['kind'][] = ['impossible', 'bad-input'];

/** Every member by its own plan, and by every pattern that one of these plans has. */
export interface Crossing {
  readonly own: (member: Member) => FamilyTaskResult;
  /**
   * The patterns that differ, by the first member with each: those of the table by name, then corners and the middle. So
   * the order of the table means nothing. They have no ids yet.
   */
  readonly patterns: readonly BuildPattern[];
  readonly field: (member: Member, pattern: BuildPattern) => Field;
  /** Every plan there is. */
  readonly plans: readonly GeometricPlan[];
}

/**
 * Plans every member and follows every pattern with every other member, each as soon as it is known that it is needed; in
 * which order tasks end means nothing. The first and the last by name lead: their patterns are tried first for all others,
 * so that these are planned sooner and differ only where that is better. Undefined where it was stopped.
 */
export async function crossMembers(
  members: readonly Member[],
  tasks: TaskRun,
  quick: boolean,
): Promise<Crossing | undefined> {
  const work = new Crossed(tasks, quick);
  const leads = leadsOf(members);
  const others = variantsOf(members).filter((variant) => !leads.includes(variant));
  const led = leads.map((variant) => work.own(variant, []));
  const like = async (): Promise<readonly BuildPattern[]> => distinct(await Promise.all(led));
  await Promise.all([
    ...leads.map(async (variant, i) => work.cross(variant, await led[i])),
    ...others.map(async (variant) => work.cross(variant, await work.own(variant, await like()))),
  ]);
  return tasks.stopped ? undefined : work.crossing(members);
}

const variantsOf = (members: readonly Member[]): readonly Variant[] =>
  [...members].sort(byName).flatMap(({ variant }) => variant ?? []);

/** The first and the last of the table by name; of the ranges where no variant of the table can be read. */
function leadsOf(members: readonly Member[]): readonly Variant[] {
  const table = variantsOf(members.filter(({ source }) => source === 'variant'));
  const all = table.length > 0 ? table : variantsOf(members);
  return all.filter((_, i) => i === 0 || i === all.length - 1);
}

class Crossed {
  private readonly owned = new Map<Variant, FamilyTaskResult>();
  private readonly ways = new Map<string, BuildPattern>();
  private readonly followed = new Map<Variant, Map<string, FamilyTaskResult>>();

  constructor(
    private readonly tasks: TaskRun,
    private readonly quick: boolean,
  ) {}

  /** Plans a variant by itself; undefined where it was stopped. */
  own(variant: Variant, like: readonly BuildPattern[]): Promise<FamilyTaskResult | undefined> {
    return this.tasks.run({
      ...{ kind: 'own', variant },
      ...(like.length > 0 && { like }),
      ...(this.quick && { quick: true }),
    });
  }

  /** What is known of a variant is crossed with what is known of the others. */
  async cross(variant: Variant, own: FamilyTaskResult | undefined): Promise<void> {
    if (own === undefined) return;
    this.owned.set(variant, own);
    this.followed.set(variant, new Map());
    const waiting = [...this.ways.values()].map((pattern) => this.follow(variant, pattern));
    if (own.kind === 'planned' && !this.ways.has(wayKey(own.pattern))) {
      this.ways.set(wayKey(own.pattern), own.pattern);
      this.tasks.foundPattern();
      for (const other of this.owned.keys()) waiting.push(this.follow(other, own.pattern));
    }
    await Promise.all(waiting);
  }

  /** Where not even any way to build it was found to be possible, none is followed. */
  private async follow(variant: Variant, pattern: BuildPattern): Promise<void> {
    const own = this.owned.get(variant)!;
    if (own.kind === 'impossible' || own.kind === 'bad-input') return;
    if (own.kind === 'planned' && isBuiltBy(own, pattern)) return;
    const result = await this.tasks.run({ kind: 'follow', variant, pattern });
    if (result !== undefined) this.followed.get(variant)!.set(wayKey(pattern), result);
  }

  crossing(members: readonly Member[]): Crossing {
    const own = (member: Member): FamilyTaskResult =>
      member.variant ? this.owned.get(member.variant)! : { kind: 'bad-input', reasons: member.reasons };
    const field = (member: Member, pattern: BuildPattern): Field => {
      const way = member.variant && this.followed.get(member.variant)?.get(wayKey(pattern));
      const result = way ?? own(member);
      return result.kind === 'planned'
        ? { plan: result.plan }
        : { reasons: result.reasons, open: !RULED_OUT.includes(result.kind) };
    };
    const patterns = distinct([...members].sort(byName).map(own));
    const results = members.flatMap((member) => [
      own(member),
      ...patterns.map((pattern) => field(member, pattern)),
    ]);
    return { own, field, patterns, plans: results.flatMap((one) => ('plan' in one ? [one.plan] : [])) };
  }
}

/** The patterns of own plans that differ, each as it was met first. */
function distinct(owns: readonly (FamilyTaskResult | undefined)[]): readonly BuildPattern[] {
  const found = new Map<string, BuildPattern>();
  for (const own of owns)
    if (own?.kind === 'planned' && !found.has(wayKey(own.pattern)))
      found.set(wayKey(own.pattern), own.pattern);
  return [...found.values()];
}

/** An order of members that does not rest on that of the table. */
export const byName = (a: Member, b: Member): number =>
  Number(a.source !== 'variant') - Number(b.source !== 'variant') || compareText(a.name, b.name);
