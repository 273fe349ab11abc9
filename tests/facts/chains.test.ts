import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base/random.js';
import { nextChains, travelOf, type Chain, type ChainMoves } from '../../src/facts/chains.js';
import { MOST_REGRIPS } from '../../src/facts/facts.js';
import type { Grip } from '../../src/facts/grips.js';
import type { StationMotion } from '../../src/facts/grip-motion.js';
import type { Spot } from '../../src/facts/spots.js';
import { GRIPS_COUNTED } from '../../src/model/fits.js';

const SPOTS = ['infeed', 'a', 'b', 'c', 'd'];

/** A motion that takes so many milliseconds from home and back. */
const taking = (milliseconds: number): StationMotion =>
  ({ out: { milliseconds }, back: { milliseconds: 0 } }) as unknown as StationMotion;

/** Moves drawn at random: which grips reach which spots, and how long each takes. */
function randomMoves(seed: number) {
  const random = seededRandom(seed);
  const spots = SPOTS.map((face) => ({ face }) as unknown as Spot);
  const grips = [0, 1, 2, 3, 4, 5].map(
    (id) =>
      ({ id, face: id % 2 === 0 ? '+z' : '-z', gripper: { id: id < 3 ? 'one' : 'two' } }) as unknown as Grip,
  );
  const table = new Map<string, { motion: StationMotion } | undefined>();
  for (const kind of ['take', 'down'])
    for (const grip of grips)
      for (const spot of spots) {
        const time = 100 + Math.floor(random() * 900);
        const motion = taking(time);
        table.set(`${kind} ${grip.id} ${spot.face}`, random() < 0.4 ? { motion } : undefined);
      }
  const get = (kind: string, grip: Grip, spot: Spot) => table.get(`${kind} ${grip.id} ${spot.face}`)?.motion;
  const moves: ChainMoves = {
    spots: spots.slice(1),
    grips,
    take: (grip, spot) => get('take', grip, spot),
    setDown: (grip, spot) => get('down', grip, spot),
  };
  return { moves, infeed: spots[0]! };
}

const keyOf = ({ spot, transfers }: Chain): string =>
  `${spot.face} ${transfers[0]!.grip.gripper.id} ${transfers.at(-1)!.grip.gripper.id}`;

/** Least time of every chain with one or two regrips, by trying them all. */
function byTryingAll({ spots, grips, take, setDown }: ChainMoves, infeed: Spot): Map<string, number>[] {
  const layers = [new Map<string, number>(), new Map<string, number>()];
  const walk = (from: Spot, used: readonly Grip[], time: number): void => {
    for (const grip of grips)
      for (const to of spots) {
        const [up, down] = [take(grip, from), setDown(grip, to)];
        if (!up || !down || to === from) continue;
        const all = [...used, grip];
        const sum = time + travelOf(up) + travelOf(down);
        const key = `${to.face} ${all[0]!.gripper.id} ${grip.gripper.id}`;
        const layer = layers[all.length - 1]!;
        layer.set(key, Math.min(sum, layer.get(key) ?? Infinity));
        if (all.length < layers.length) walk(to, all, sum);
      }
  };
  walk(infeed, [], 0);
  for (const key of layers[0]!.keys()) layers[1]!.delete(key);
  return layers;
}

describe('chains of regrips', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])(
    'are the quickest of the fewest, as trying all shows (seed %i)',
    (seed) => {
      const { moves, infeed } = randomMoves(seed);
      const seen = new Set<string>();
      const first = nextChains([{ spot: infeed, transfers: [], milliseconds: 0 }], moves, seen);
      const second = nextChains(first, moves, seen);
      const got = [first, second].map((layer) =>
        [...layer].map((chain) => [keyOf(chain), chain.milliseconds] as const).sort(),
      );
      expect(got).toEqual(byTryingAll(moves, infeed).map((layer) => [...layer].sort()));
    },
  );

  it('have no more grips than a part in place is counted with', () => {
    expect(GRIPS_COUNTED).toBe(MOST_REGRIPS + 1);
  });

  it('keep the first found among equals', () => {
    const { moves, infeed } = randomMoves(3);
    const even = (motion: StationMotion | undefined) => motion && taking(5);
    const equal: ChainMoves = {
      ...moves,
      take: (grip, spot) => even(moves.take(grip, spot)),
      setDown: (grip, spot) => even(moves.setDown(grip, spot)),
    };
    const [chain] = nextChains([{ spot: infeed, transfers: [], milliseconds: 0 }], equal, new Set());
    const able = moves.grips.filter(
      (grip) =>
        grip.gripper.id === chain!.transfers[0]!.grip.gripper.id &&
        moves.take(grip, infeed) &&
        moves.setDown(grip, chain!.spot),
    );
    expect(chain!.transfers[0]!.grip).toBe(able[0]);
  });
});
