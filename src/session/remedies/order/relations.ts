import { singleChange } from '../number-ladder.js';
import type { Edit } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';
import { hasCode, missesOf, stuckParts, type AbstractTrouble, type Trouble } from '../trouble.js';

/** Reasons that speak of given relations of the order. */
const ORDER = ['needs', 'blocking', 'first', 'contact', 'no-contact'];

type Relation = 'needs' | 'blocking';
type Entry = Readonly<Record<string, string | readonly string[]>> & { readonly part: string };

/** One pair of a relation: `part` and one of those that it comes after, or that block it. */
interface Pair {
  readonly entry: number;
  readonly part: string;
  readonly other: string;
}

const OTHERS = { needs: 'after', blocking: 'by' } as const;

/** The list with a pair taken out, an entry without any other part left out as a whole. */
const without = (list: readonly Entry[], relation: Relation, { entry, other }: Pair): readonly Entry[] =>
  list.flatMap((one, i): Entry[] => {
    if (i !== entry) return [one];
    const left = (one[OTHERS[relation]] as readonly string[]).filter((name) => name !== other);
    return left.length === 0 ? [] : [{ ...one, [OTHERS[relation]]: left }];
  });

const NAMES: Readonly<Record<Relation, (part: string, other: string) => string>> = {
  needs: (part, other) => `that ${part} joins only after ${other}`,
  blocking: (part, other) => `that ${part} cannot join once ${other} is in place`,
};

/** Drops one relation of the order that stands against a plan, or turns it round: the first named, the last bound. */
export function relationsOfOrder(trouble: Trouble | AbstractTrouble): readonly Ladder[] {
  const stuck = new Set(stuckParts(trouble, ...ORDER));
  return (['needs', 'blocking'] as const).flatMap((relation) => {
    const list = trouble.weldment[relation] as readonly Entry[];
    const pairs = list.flatMap((entry, i) =>
      (entry[OTHERS[relation]] as readonly string[])
        .filter(() => stuck.has(entry.part))
        .map((other): Pair => ({ entry: i, part: entry.part, other })),
    );
    return pairs
      .filter((pair) => isMeant(trouble, relation, pair))
      .flatMap((pair) => changesOf(list, relation, pair));
  });
}

/** A reason that names one pair of a relation leaves the others alone. */
const isMeant = (trouble: Trouble | AbstractTrouble, relation: Relation, { part, other }: Pair): boolean =>
  missesOf(trouble).some(
    ({ code, subjects }) => code === relation && subjects[0] === part && subjects.slice(1).includes(other),
  );

function changesOf(list: readonly Entry[], relation: Relation, pair: Pair): readonly Ladder[] {
  const { part, other } = pair;
  const rest = without(list, relation, pair);
  const edit = (to: readonly Entry[]): readonly Edit[] => [
    { file: 'weldment', path: [relation], from: list, to },
  ];
  const turned = [...rest, { part: other, [OTHERS[relation]]: [part] }];
  const said = NAMES[relation](part, other);
  // Turned round, a pair that is there both ways would only be dropped.
  const bothWays = list.some(
    (entry) => entry.part === other && (entry[OTHERS[relation]] as readonly string[]).includes(part),
  );
  return [
    ...(bothWays
      ? []
      : [
          singleChange(`turned-${relation}`, 'order', {
            words: `ask the other way round instead: not ${said}, but ${NAMES[relation](other, part)}`,
            edits: edit(turned),
          }),
        ]),
    singleChange(`dropped-${relation}`, 'order', { words: `do not ask ${said}`, edits: edit(rest) }),
  ];
}

/** Leaves out the wish for the first part. */
export function firstDropped(trouble: Trouble | AbstractTrouble): readonly Ladder[] {
  const { first } = trouble.weldment;
  if (first === undefined || !hasCode(trouble, ...ORDER)) return [];
  return [
    singleChange('dropped-first', 'order', {
      words: `do not ask that ${first} is the first part`,
      edits: [{ file: 'weldment', path: ['first'], from: first }],
    }),
  ];
}
