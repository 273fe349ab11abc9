import { madeUnique } from '../base/identifier.js';
import { compareText } from '../base/order.js';
import { canonicalText } from '../io/canonical.js';
import type { Family, Variant } from '../model/family.js';
import type { Limit, ParameterValue, VariantResult } from '../model/family-result.js';
import { limitOfIssue } from './limits.js';
import { cornersOf, middleOf, placeKey, valuesAt, type Axis, type Place } from './places.js';

/** A weldment of a family that is planned for itself: a variant of the table, or a corner or the middle of the ranges. */
export interface Member {
  readonly name: string;
  readonly source: VariantResult['source'];
  readonly values: Readonly<Record<string, ParameterValue>>;
  /** Undefined where its values give no weldment, with the reasons. */
  readonly variant: Variant | undefined;
  readonly reasons: readonly Limit[];
}

/** A place in the ranges that is a member. */
export interface MemberPlace {
  readonly place: Place;
  readonly source: 'corner' | 'middle';
  readonly member: Member;
}

/** The members of a family: its table in that order, then corners and middle that the table does not have. */
export interface Members {
  readonly members: readonly Member[];
  readonly places: readonly MemberPlace[];
}

export function membersOf(family: Family, axes: readonly Axis[]): Members {
  const table = family.variants.map((variant): Member => tabled(variant));
  const wanted = placesWanted(axes);
  const names = madeUnique([...table.map(({ name }) => name), ...wanted.map(({ name }) => name)]);
  // Of variants with the same values the first by name, whichever row it has.
  const lastFirst = [...table].sort((a, b) => compareText(b.name, a.name));
  const byValues = new Map(lastFirst.map((member) => [canonicalText(member.values), member]));
  const places = wanted.map(({ place, source }, i): MemberPlace => {
    const made = memberAt(family, axes, place, { name: names[table.length + i]!, source });
    return { place, source, member: byValues.get(canonicalText(made.values)) ?? made };
  });
  const made = places.map(({ member }) => member).filter(({ source }) => source !== 'variant');
  return { members: [...table, ...made], places };
}

const tabled = (variant: Variant): Member => ({
  ...{ name: variant.name, source: 'variant', values: variant.values, variant, reasons: [] },
});

function memberAt(
  family: Family,
  axes: readonly Axis[],
  place: Place,
  { name, source }: Pick<Member, 'name' | 'source'>,
): Member {
  const values = valuesAt(axes, place);
  const { variant, issues } = family.variantOf(name, values);
  return {
    name,
    source,
    values: variant?.values ?? values,
    variant,
    reasons: variant ? [] : issues.map(limitOfIssue),
  };
}

/** Corners first, then the middle where it is none of them. */
function placesWanted(
  axes: readonly Axis[],
): readonly (Omit<MemberPlace, 'member'> & { readonly name: string })[] {
  if (axes.length === 0) return [];
  const corners = cornersOf(axes).map((place, i) => ({
    ...{ place, source: 'corner' as const },
    name: axes.length <= 3 ? `corner-${endsOf(axes, place)}` : `corner-${i + 1}`,
  }));
  const middle = middleOf(axes);
  if (corners.some(({ place }) => placeKey(place) === placeKey(middle))) return corners;
  return [...corners, { place: middle, source: 'middle', name: 'middle' }];
}

const endsOf = (axes: readonly Axis[], place: Place): string =>
  axes.map((_, i) => (place[i] === 0 ? 'low' : 'high')).join('-');
