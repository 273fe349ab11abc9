import { rounded } from '../base/order.js';
import { has } from '../base/part-set.js';
import { roomBetween, type Approach } from '../facts/approaches.js';
import type { Facts } from '../facts/facts.js';
import { GRIP_TESTS } from '../facts/grip-refusals.js';
import { isNearer } from '../facts/nearest-miss.js';
import { solidPenetration } from '../geometry/separation.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate } from '../geometry/vector.js';
import { gripperSolid } from '../model/placement.js';
import type { Refusal } from '../model/verdict.js';
import type { ConflictFact } from './conflict-facts.js';
import { isByCarrying } from './conflict-grips.js';

/** How far two solids may be looked for in one another, mm. */
const DEEPEST = 1000;
/** To how much a depth is told, mm. */
const GRAIN = 0.05;

/** Of all placings of a part that were refused, by one robot or with one gripper, the refusals. */
function placings(facts: Facts, { of, robot, gripper }: ConflictFact): readonly Refusal[] {
  return facts.everyAngle.flatMap((at) =>
    at.approaches(of).flatMap((approach) =>
      at
        .usableGrips(of)
        .filter((grip) => robot === undefined || grip.robot.id === robot)
        .filter((grip) => gripper === undefined || grip.gripper.id === gripper)
        .flatMap((grip) => {
          const placed = at.place(of, grip, approach);
          return placed.ok ? [] : [placed.error];
        }),
    ),
  );
}

/** The same for taking it where it may lie. */
const takings = (facts: Facts, { of, robot, gripper }: ConflictFact): readonly Refusal[] =>
  facts.spots(of).flatMap((spot) =>
    facts
      .usableGrips(of)
      .filter((grip) => robot === undefined || grip.robot.id === robot)
      .filter((grip) => gripper === undefined || grip.gripper.id === gripper)
      .flatMap((grip) => {
        const taken = facts.take(of, grip, spot);
        return taken.ok ? [] : [taken.error];
      }),
  );

const nearestIn = (refusals: readonly Refusal[]): Refusal | undefined =>
  refusals.reduce<Refusal | undefined>(
    (best, next) => (best === undefined || isNearer(next, best) ? next : best),
    undefined,
  );

/** What the arm missed by least, of a grip that can be used: as it brings the part, else as it takes it. */
export function nearestReach(facts: Facts, fact: ConflictFact): Refusal | undefined {
  const byArm = (refusal: Refusal): boolean => !isByCarrying(refusal);
  return nearestIn(placings(facts, fact).filter(byArm)) ?? nearestIn(takings(facts, fact).filter(byArm));
}

/** What a gripper failed to carry by least; else of the grips that do not fit one that came farthest, and nearest in that. */
export function nearestCapacity(facts: Facts, fact: ConflictFact): Refusal | undefined {
  const carried =
    nearestIn(placings(facts, fact).filter(isByCarrying)) ??
    nearestIn(takings(facts, fact).filter(isByCarrying));
  return carried ?? nearestFit(facts, fact);
}

function nearestFit(facts: Facts, { of, gripper }: ConflictFact): Refusal | undefined {
  const far = ({ code }: Refusal): number => (GRIP_TESTS as readonly string[]).indexOf(code);
  const excess = ({ value, limit }: Refusal): number => Math.abs((value ?? Infinity) - (limit ?? 0));
  return facts
    .grips(of)
    .filter(({ candidate }) => candidate.gripper.id === gripper)
    .flatMap(({ refusal }) => (refusal && refusal.code !== 'dominated' ? [refusal] : []))
    .reduce<Refusal | undefined>(
      (best, next) =>
        best === undefined ||
        far(next) > far(best) ||
        (far(next) === far(best) && excess(next) < excess(best))
          ? next
          : best,
      undefined,
    );
}

/** The rest that was nearest to being one. */
export const nearestRest = (facts: Facts, { of }: ConflictFact): Refusal | undefined =>
  nearestIn(facts.rests(of).flatMap(({ refusal }) => (refusal ? [refusal] : [])));

/** How far a part runs into another one on the best of the ways that this one blocks, or the room between two, mm. */
export function nearestWay(facts: Facts, { of, other, also, part }: ConflictFact): Refusal | undefined {
  const { index, weldment } = facts.scene;
  const [one, two] = [other, also].map((id) => (id === undefined ? undefined : index.get(id)));
  if (one === undefined) return undefined;
  const misses = facts.everyAngle.flatMap((at) =>
    at.approaches(of).flatMap((approach): readonly Refusal[] => {
      const room = roomBetween(at.scene, of, approach, [one, two ?? one]);
      const limit = 2 * weldment.fitUp.insertion;
      if (room !== undefined)
        return [
          {
            ...{ code: 'no-room-to-slide', subjects: [part, other!, ...(also === undefined ? [] : [also])] },
            ...{ value: rounded(room, 3), limit, unit: 'mm' },
          },
        ];
      if (two !== undefined || !has(approach.hits, one)) return [];
      const value = depthAlong(at, of, approach, one);
      return [{ code: 'way-blocked', subjects: [part, other!], value, limit: 0, unit: 'mm' }];
    }),
  );
  return nearestIn(misses);
}

/** By how much a part would overlap another one on its straight way: the most that may be left out of both and they still meet. */
function depthAlong(
  { scene, settings }: Facts,
  part: number,
  { direction, distance }: Approach,
  other: number,
): number {
  const [moving, fixed] = [part, other].map((i) => scene.parts[i]!.solid) as [never, never];
  const meets = (tolerance: number): boolean =>
    sweepHits(moving, negate(direction), distance, fixed, tolerance);
  let [low, high] = [settings.motion['touch-tolerance'], DEEPEST];
  while (high - low > GRAIN) {
    const middle = (low + high) / 2;
    if (meets(middle)) low = middle;
    else high = middle;
  }
  return rounded(low, 1);
}

/** How far a gripper reaches into a part, at the grip with which it does so least, mm. */
export function nearestRoom(facts: Facts, { of, other, gripper, part }: ConflictFact): Refusal | undefined {
  const { scene } = facts;
  const met = other === undefined ? undefined : scene.index.get(other);
  if (met === undefined) return undefined;
  const { shape } = scene.parts[of]!.part;
  const depths = facts.everyAngle.flatMap((at) =>
    at
      .usableGrips(of)
      .filter((grip) => grip.gripper.id === gripper)
      .map((grip) =>
        solidPenetration(
          gripperSolid(shape, at.scene.parts[of]!.pose, grip, grip.gripper),
          at.scene.parts[met]!.solid,
        ),
      )
      .filter((depth) => depth > 0),
  );
  if (depths.length === 0) return undefined;
  const value = rounded(Math.min(...depths), 1);
  return { code: 'gripper-meets', subjects: [part, gripper!, other!], value, limit: 0, unit: 'mm' };
}
