import type { BuildPattern } from '../model/build-pattern.js';
import type { FamilyEnvelope } from '../model/family-result.js';
import {
  adjoin,
  between,
  distance,
  halfWay,
  placeKey,
  sampledPlaces,
  valuesAt,
  type Axis,
  type Place,
} from './places.js';
import { outcomeOf } from './task.js';
import type { TaskRun } from './task-run.js';
import { Trials, type Ground, type Trial } from './trials.js';

type Told = FamilyEnvelope['boundaries'][number];

/** Boundaries that are looked for with one pattern, the nearest first. Our choice. */
const MOST_BOUNDARIES = 8;

/** Two places, of which a pattern works at the first and not at the second. */
interface Pair {
  readonly works: Place;
  readonly fails: Place;
}

/** Two such places with nothing between them, and what stops the pattern at the second. */
interface Boundary extends Pair {
  readonly pattern: string;
  readonly alone: Told['alone'];
  readonly reasons: Trial['reasons'];
}

/** What was found of the ranges, as the result tells it. */
export interface Explored {
  readonly samples: FamilyEnvelope['samples'];
  readonly boundaries: FamilyEnvelope['boundaries'];
  /** Whether a pattern fails at more places than it was followed to. */
  readonly leftOut: boolean;
}

/**
 * Where in the ranges patterns work: they are tried at the places that are planned already and at a seeded sample, then
 * between each place where one fails and the nearest where it works, by halving, until both are at most a step of the
 * resolution apart in each range. A place behind another failing one, as seen from where the pattern works, is not
 * followed to. Undefined where it was stopped.
 */
export async function explore(
  ground: Ground,
  patterns: readonly BuildPattern[],
  { samples, seed }: { readonly samples: number; readonly seed: number },
  tasks: TaskRun,
): Promise<Explored | undefined> {
  const known = ground.places.map(({ place }) => place);
  const places = [...known, ...sampledPlaces(ground.axes, samples, seed, known)];
  const trials = new Trials(ground, tasks);
  const found = await Promise.all(
    patterns.map(async (pattern) => {
      const tried = await Promise.all(places.map((place) => trials.at(pattern, place, 'sample')));
      if (tasks.stopped) return undefined;
      const pairs = pairsOf(ground.axes, places, tried);
      const followed = pairs.slice(0, MOST_BOUNDARIES);
      const boundaries = await Promise.all(followed.map((pair) => boundaryIn(trials, pattern, pair)));
      return { boundaries, leftOut: pairs.length > MOST_BOUNDARIES };
    }),
  );
  if (tasks.stopped) return undefined;
  const boundaries = found.flatMap((one) => one?.boundaries ?? []).flatMap((one) => one ?? []);
  return {
    samples: trials.told(patterns),
    boundaries: distinct(boundaries).map((boundary) => told(ground.axes, boundary)),
    leftOut: found.some((one) => one?.leftOut === true),
  };
}

/** Each failing place with the nearest where the pattern works, the nearest pairs first. */
function pairsOf(
  axes: readonly Axis[],
  places: readonly Place[],
  tried: readonly (Trial | undefined)[],
): Pair[] {
  const working = places.filter((_, i) => tried[i]?.fits === true);
  const failing = places.filter((_, i) => tried[i]?.fits === false);
  if (working.length === 0) return [];
  const pairs = failing.map((fails) => ({ works: nearestTo(axes, fails, working), fails }));
  pairs.sort((a, b) => distance(axes, a.works, a.fails) - distance(axes, b.works, b.fails));
  const taken: Pair[] = [];
  for (const pair of pairs)
    if (!taken.some(({ fails }) => between(fails, pair.works, pair.fails))) taken.push(pair);
  return taken;
}

const nearestTo = (axes: readonly Axis[], place: Place, among: readonly Place[]): Place =>
  among.reduce((best, one) => (distance(axes, one, place) < distance(axes, best, place) ? one : best));

/** Halves the way between two places until nothing is between them. */
async function boundaryIn(trials: Trials, pattern: BuildPattern, pair: Pair): Promise<Boundary | undefined> {
  let { works, fails } = pair;
  let failure = await trials.at(pattern, fails, 'bisection');
  while (!adjoin(works, fails)) {
    const middle = halfWay(works, fails);
    const trial = await trials.at(pattern, middle, 'bisection');
    if (trial === undefined) return undefined;
    if (trial.fits) works = middle;
    else [fails, failure] = [middle, trial];
  }
  const alone = await trials.alone(fails);
  if (alone === undefined || failure === undefined) return undefined;
  // What rules out every plan says more than what rules out those by the pattern.
  const reasons = alone.kind === 'impossible' ? alone.reasons : failure.reasons;
  return { pattern: pattern.id, works, fails, alone: outcomeOf(alone), reasons };
}

const told = (axes: readonly Axis[], { works, fails, reasons, ...boundary }: Boundary): Told => ({
  ...boundary,
  ...{ works: valuesAt(axes, works), fails: valuesAt(axes, fails), reasons: [...reasons] },
});

/** Two ways may end at the same boundary. */
function distinct(boundaries: readonly Boundary[]): readonly Boundary[] {
  const key = ({ pattern, works, fails }: Boundary): string =>
    [pattern, placeKey(works), placeKey(fails)].join(' to ');
  return [...new Map(boundaries.map((boundary) => [key(boundary), boundary])).values()];
}
