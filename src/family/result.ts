import { FAMILY_FORMAT, FAMILY_VERSION } from '../model/family-result.js';
import type {
  FamilyEnvelope,
  FamilyResult,
  MatrixField,
  PlanFigures,
  VariantResult,
} from '../model/family-result.js';
import type { BuildPattern } from '../model/build-pattern.js';
import type { Family } from '../model/family.js';
import type { GeometricPlan } from '../model/plan.js';
import type { ObjectiveTerm, Settings } from '../model/settings.js';
import { CAUTIONS } from '../planning/document.js';
import { subtractCost } from '../algorithms/cost.js';
import { costOf, extraOf, type Extra } from './costs.js';
import type { CoveredFamily } from './covering.js';
import type { Crossing } from './crossing.js';
import type { Explored } from './envelope.js';
import { figuresOf } from './figures.js';
import type { Member, MemberPlace } from './members.js';
import { parametersOf } from './parameters.js';
import { cornersLeftOut, type Axis } from './places.js';
import { outcomeOf } from './task.js';

/** What all variants of a family are planned with. */
export interface FamilyInputs {
  readonly family: Family;
  readonly cell: { readonly name: string; readonly digest: string };
  readonly settings: Settings;
}

/** What files beside a result are called. */
export interface FamilyFiles {
  readonly weldment: (variant: string) => string;
  /** By a pattern, or the own plan. */
  readonly plan: (variant: string, pattern: string | undefined) => string;
}

/** A plan of a result, and what its file is called there. */
export interface FamilyPlan {
  readonly variant: string;
  /** Undefined: its own plan. */
  readonly pattern: string | undefined;
  readonly file: string | null;
  readonly plan: GeometricPlan;
}

/** All that was found out about a family. */
export interface FamilyFound {
  readonly inputs: FamilyInputs;
  readonly axes: readonly Axis[];
  readonly members: readonly Member[];
  readonly places: readonly MemberPlace[];
  readonly crossing: Crossing;
  readonly terms: readonly ObjectiveTerm[];
  readonly covered: CoveredFamily;
  readonly explored: Explored;
  readonly seed: number;
  /** Whether a plan was enough where nothing but its time could be better. */
  readonly quick: boolean;
  readonly files: FamilyFiles | undefined;
}

const BETWEEN =
  'What lies between the planned variants was tried at some places only: plan a variant of other values before it is built.';

/** The result of a family as a document, and the plans that it speaks of. */
export function familyResult(found: FamilyFound): {
  readonly result: FamilyResult;
  readonly plans: readonly FamilyPlan[];
} {
  const { inputs, axes, members, covered } = found;
  const { family, cell, settings } = inputs;
  const result: FamilyResult = {
    ...{ format: FAMILY_FORMAT, version: FAMILY_VERSION },
    family: { name: family.name, digest: family.digest },
    ...{ cell: { name: cell.name, digest: cell.digest }, settings },
    parameters: family.parameters.map(({ name, unit, range }) => ({
      name,
      ...(unit === undefined ? {} : { unit }),
      ...(range === undefined ? {} : { low: range.low, high: range.high }),
    })),
    variants: members.map((member) => variantResult(found, member)),
    patterns: [...covered.patterns],
    matrix: members.flatMap((member) =>
      member.variant ? covered.patterns.map((pattern) => matrixField(found, member, pattern)) : [],
    ),
    covering: covered.covering,
    envelope: axes.length === 0 ? null : envelopeOf(found),
    warnings: warningsOf(found),
    cautions: cautionsOf(found),
  };
  return { result, plans: plansOf(found) };
}

function variantResult({ crossing, files, quick }: FamilyFound, member: Member): VariantResult {
  const { name, source, values, variant } = member;
  const own = crossing.own(member);
  const planned = own.kind === 'planned';
  return {
    ...{ name, source, values: { ...values }, parts: variant ? partsIn(variant.text) : 0 },
    weldmentFile: variant ? (files?.weldment(name) ?? null) : null,
    outcome: outcomeOf(own),
    own: planned ? figuresIn(own.plan, files?.plan(name, undefined)) : null,
    searched: !(quick && planned && isProvedBeforeTimeOnly(own.plan)),
    leastSaving: (planned && own.leastSaving) || 0,
    reasons: planned ? [] : [...own.reasons],
  };
}

/** Whether a plan is proved least in all terms before the time, of which there are some, and not in that. */
function isProvedBeforeTimeOnly({ objective, proof }: GeometricPlan): boolean {
  const place = objective.findIndex(({ term }) => term === 'time');
  return place > 0 && proof.provedTerms.length === place;
}

const figuresIn = (plan: GeometricPlan, file: string | undefined): PlanFigures => ({
  ...figuresOf(plan),
  file: file ?? null,
});

/** The text is a weldment file that was made of the family. */
const partsIn = (text: string): number =>
  Object.keys((JSON.parse(text) as { readonly parts?: object }).parts ?? {}).length;

function matrixField(found: FamilyFound, member: Member, pattern: BuildPattern): MatrixField {
  const field = found.crossing.field(member, pattern);
  const at = { variant: member.name, pattern: pattern.id };
  if (!('plan' in field))
    return {
      ...at,
      fits: false,
      ...{ figures: null, extra: null, parameters: null },
      reasons: [...field.reasons],
    };
  return {
    ...{ ...at, fits: true },
    figures: figuresIn(field.plan, found.files?.plan(member.name, pattern.id)),
    extra: extraOver(found, member, field.plan),
    parameters: parametersOf(field.plan, pattern),
    reasons: [],
  };
}

function extraOver({ crossing, terms }: FamilyFound, member: Member, plan: GeometricPlan): Extra | null {
  const own = crossing.own(member);
  if (own.kind !== 'planned') return null;
  return extraOf(terms, subtractCost(costOf(plan, terms), costOf(own.plan, terms)));
}

/** The parameters without a range have the same values at every place. */
function envelopeOf({ axes, places, explored, seed }: FamilyFound): FamilyEnvelope {
  const ranged = new Set(axes.map(({ name }) => name));
  const known = places.find(({ member }) => member.variant)?.member.values ?? {};
  return {
    resolution: Object.fromEntries(axes.map(({ name, resolution }) => [name, resolution])),
    others: Object.fromEntries(Object.entries(known).filter(([name]) => !ranged.has(name))),
    seed,
    samples: explored.samples,
    boundaries: explored.boundaries,
  };
}

/** What several own plans warn of is told once, with the variants. */
function warningsOf({ crossing, members, axes, explored }: FamilyFound): string[] {
  const warned = new Map<string, string[]>();
  for (const member of members) {
    const own = crossing.own(member);
    if (own.kind !== 'planned') continue;
    for (const warning of own.plan.warnings)
      warned.set(warning, [...(warned.get(warning) ?? []), member.name]);
  }
  return [
    ...[...warned].map(([warning, names]) => `${names.join(', ')}: ${warning}`),
    ...(cornersLeftOut(axes)
      ? [`of ${2 ** axes.length} corners of the ranges ${2 * axes.length + 2} places were planned`]
      : []),
    ...(explored.leftOut ? ['a pattern fails at more places than it was followed to'] : []),
  ];
}

const cautionsOf = ({ crossing, axes }: FamilyFound): string[] => [
  ...new Set([...CAUTIONS, ...crossing.plans.flatMap(({ cautions }) => cautions)]),
  ...(axes.length > 0 ? [BETWEEN] : []),
];

function plansOf({ crossing, members, covered, files }: FamilyFound): FamilyPlan[] {
  return members.flatMap((member) => {
    const { name } = member;
    const own = crossing.own(member);
    const told = (plan: GeometricPlan, pattern: string | undefined): FamilyPlan => ({
      ...{ variant: name, pattern, file: files?.plan(name, pattern) ?? null, plan },
    });
    return [
      ...(own.kind === 'planned' ? [told(own.plan, undefined)] : []),
      ...covered.patterns.flatMap((pattern) => {
        const field = crossing.field(member, pattern);
        return 'plan' in field ? [told(field.plan, pattern.id)] : [];
      }),
    ];
  });
}
