import { compareVectors } from '../base/order.js';
import type { BuildPattern } from '../model/build-pattern.js';
import type { Family, Variant } from '../model/family.js';
import type { FamilyEnvelope, Limit } from '../model/family-result.js';
import type { Crossing } from './crossing.js';
import { limitOfIssue } from './limits.js';
import type { Member, MemberPlace } from './members.js';
import { placeKey, valuesAt, type Axis, type Place } from './places.js';
import type { FamilyTaskResult } from './task.js';
import type { TaskRun } from './task-run.js';

/** Longest name that a variant may have. */
const LONGEST_NAME = 80;

/** Whether a pattern works at a place, and if not, why. */
export interface Trial {
  readonly fits: boolean;
  readonly reasons: readonly Limit[];
}

type Told = FamilyEnvelope['samples'][number];

interface Site {
  readonly place: Place;
  readonly source: Told['source'];
  readonly found: Map<string, Trial>;
}

/** What is asked of places in the ranges. */
export interface Ground {
  readonly family: Family;
  readonly axes: readonly Axis[];
  /** Places that are planned already. */
  readonly places: readonly MemberPlace[];
  readonly crossing: Crossing;
}

/** Tries patterns at places, each once. */
export class Trials {
  private readonly asked = new Map<string, Promise<Trial | undefined>>();
  private readonly planned = new Map<string, Promise<FamilyTaskResult | undefined>>();
  private readonly sites = new Map<string, Site>();

  constructor(
    private readonly ground: Ground,
    private readonly tasks: TaskRun,
  ) {
    for (const { place, source } of ground.places) this.siteOf(place, source);
  }

  /** Undefined where it was stopped. */
  at(pattern: BuildPattern, place: Place, source: Told['source']): Promise<Trial | undefined> {
    const site = this.siteOf(place, source);
    const key = `${pattern.id} ${placeKey(place)}`;
    let trial = this.asked.get(key);
    if (trial === undefined) {
      trial = this.tried(pattern, place).then((found) => {
        if (found) site.found.set(pattern.id, found);
        return found;
      });
      this.asked.set(key, trial);
    }
    return trial;
  }

  /** All places so far, those between others last and by their steps: in which order they were reached means nothing. */
  told(patterns: readonly BuildPattern[]): Told[] {
    const all = [...this.sites.values()];
    const between = all.filter(({ source }) => source === 'bisection');
    between.sort((a, b) => compareVectors(a.place, b.place));
    return [...all.filter(({ source }) => source !== 'bisection'), ...between].map(
      ({ place, source, found }) => ({
        source,
        values: valuesAt(this.ground.axes, place),
        patterns: patterns.flatMap(({ id }) => {
          const trial = found.get(id);
          return trial ? [{ pattern: id, fits: trial.fits, reasons: [...trial.reasons] }] : [];
        }),
      }),
    );
  }

  private siteOf(place: Place, source: Told['source']): Site {
    const key = placeKey(place);
    const site = this.sites.get(key) ?? { place, source, found: new Map<string, Trial>() };
    this.sites.set(key, site);
    return site;
  }

  /** What comes of a place that is planned by itself; undefined where it was stopped. */
  alone(place: Place): Promise<FamilyTaskResult | undefined> {
    const key = placeKey(place);
    const known = this.planned.get(key) ?? this.plannedAlone(place);
    this.planned.set(key, known);
    return known;
  }

  private async plannedAlone(place: Place): Promise<FamilyTaskResult | undefined> {
    const planned = this.memberAt(place);
    if (planned) return this.ground.crossing.own(planned);
    const { variant, reasons } = this.variantAt(place);
    return variant ? this.tasks.run({ kind: 'own', variant }) : { kind: 'bad-input', reasons };
  }

  private async tried(pattern: BuildPattern, place: Place): Promise<Trial | undefined> {
    const planned = this.memberAt(place);
    if (planned) {
      const field = this.ground.crossing.field(planned, pattern);
      return 'plan' in field ? { fits: true, reasons: [] } : { fits: false, reasons: field.reasons };
    }
    const { variant, reasons } = this.variantAt(place);
    if (variant === undefined) return { fits: false, reasons };
    const result = await this.tasks.run({ kind: 'follow', variant, pattern });
    if (result === undefined) return undefined;
    return result.kind === 'planned' ? { fits: true, reasons: [] } : { fits: false, reasons: result.reasons };
  }

  private memberAt(place: Place): Member | undefined {
    const key = placeKey(place);
    return this.ground.places.find((one) => placeKey(one.place) === key)?.member;
  }

  private variantAt(place: Place): {
    readonly variant: Variant | undefined;
    readonly reasons: readonly Limit[];
  } {
    const { family, axes } = this.ground;
    const values = valuesAt(axes, place);
    const { variant, issues } = family.variantOf(nameOf(values), values);
    return { variant, reasons: variant ? [] : issues.map(limitOfIssue) };
  }
}

/** What a place is called in messages: the same in every run, so that what is kept of it serves the next one. */
const nameOf = (values: Readonly<Record<string, number>>): string =>
  Object.entries(values)
    .map(([name, value]) => `${name} ${value}`)
    .join(', ')
    .slice(0, LONGEST_NAME);
