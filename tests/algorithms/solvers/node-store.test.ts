import { describe, expect, it } from 'vitest';
import {
  bytesPerNode,
  CLOSED,
  GONE,
  NodeStore,
  NONE,
  OPEN,
} from '../../../src/algorithms/solvers/node-store.js';
import { OpenList } from '../../../src/algorithms/solvers/open-list.js';
import { NO_TRAIL, PathTrail } from '../../../src/algorithms/solvers/path-trail.js';
import { seededRandom } from '../../../src/base/random.js';

const SHAPE = { words: 3, groupWords: 2, terms: 1 };

/** A store beside a plain map that it must agree with, after so many random additions and removals. */
function exercised(steps: number, most: number): { store: NodeStore; plain: Map<number, string> } {
  const store = new NodeStore(SHAPE, most);
  const plain = new Map<number, string>();
  const random = seededRandom(1);
  const draw = (below: number): number => Math.floor(random() * below);
  for (let i = 0; i < steps; i += 1) {
    if (store.hasRoom(1) && random() < 0.7) {
      const [state, layer] = [Uint32Array.of(draw(40), draw(2) * 0xffffffff, i), draw(3)];
      plain.set(store.add(state, layer, store.hashOf(state, layer)), `${layer}/${state.join()}`);
    } else {
      const node = [...plain.keys()][draw(plain.size)]!;
      store.leaveTable(node);
      store.free(node);
      plain.delete(node);
    }
  }
  return { store, plain };
}

describe('the store of nodes', () => {
  it('finds all nodes of a layer that agree in the first words, and no others', () => {
    const { store, plain } = exercised(6000, 1e6);
    expect(store.size).toBe(plain.size);
    expect(plain.size).toBeGreaterThan(1500);
    for (let first = 0; first < 40; first += 1)
      for (const second of [0, 0xffffffff])
        for (let layer = 0; layer < 3; layer += 1) {
          const state = Uint32Array.of(first, second, 0);
          const hash = store.hashOf(state, layer);
          const found: string[] = [];
          let node = store.firstAlike(state, layer, hash);
          for (; node !== NONE; node = store.nextAlike(node, state, layer, hash))
            found.push(plain.get(node)!);
          const expected = [...plain.values()].filter((text) =>
            text.startsWith(`${layer}/${first},${second},`),
          );
          expect(found.sort()).toEqual(expected.sort());
        }
  });

  it('uses slots again and never has more than it may', () => {
    const { store, plain } = exercised(20_000, 500);
    expect(store.end).toBe(500);
    expect(store.size).toBe(plain.size);
    expect(store.bytes).toBe(500 * bytesPerNode(SHAPE));
    expect(store.hasRoom(501 - store.size)).toBe(false);
  });

  it('keeps what was written when it grows', () => {
    const store = new NodeStore(SHAPE, 1e6);
    for (let i = 0; i < 5000; i += 1) {
      expect(store.hasRoom(1)).toBe(true);
      const state = Uint32Array.of(i, 2 * i, 3 * i);
      const node = store.add(state, 7, store.hashOf(state, 7));
      store.g[node] = i / 2;
      store.from[node] = 5 * i;
    }
    const into = new Uint32Array(3);
    for (let node = 0; node < 5000; node += 1) {
      store.read(node, into);
      expect([...into, store.g[node], store.from[node], store.layer[node]]).toEqual([
        node,
        2 * node,
        3 * node,
        node / 2,
        5 * node,
        7,
      ]);
    }
  });
});

/** A list of so many nodes of random bounds and layers, and the nodes in the order in which they should come. */
function filledList(count: number): { store: NodeStore; list: OpenList; sorted: number[] } {
  const store = new NodeStore({ words: 1, groupWords: 1, terms: 2 }, 1e6);
  const list = new OpenList(store);
  const random = seededRandom(2);
  const keys: number[][] = [];
  for (let i = 0; i < count; i += 1) {
    store.hasRoom(1);
    const layer = Math.floor(random() * 3);
    const node = store.add(Uint32Array.of(i), layer, i);
    const f = [Math.floor(random() * 4), Math.floor(random() * 4)];
    store.f.set(f, 2 * node);
    store.made[node] = i;
    keys[node] = [...f, -layer, i];
    list.push(node);
  }
  const before = (a: number, b: number): number => {
    const at = keys[a]!.findIndex((key, i) => key !== keys[b]![i]);
    return at < 0 ? 0 : keys[a]![at]! - keys[b]![at]!;
  };
  return { store, list, sorted: [...keys.keys()].sort(before) };
}

const emptied = (list: OpenList): number[] => {
  const nodes: number[] = [];
  while (list.peek() !== NONE) nodes.push(list.pop());
  return nodes;
};

describe('a list of open nodes', () => {
  it('gives the least bound first, of equal ones the deeper layer, then the node made first', () => {
    for (const count of [0, 1, 2, 17, 1000]) {
      const { list, sorted } = filledList(count);
      expect(emptied(list)).toEqual(sorted);
    }
  });

  it('gives up exactly the worse half', () => {
    for (const count of [0, 1, 2, 3, 17, 1000]) {
      const { list, sorted } = filledList(count);
      expect([...list.worseHalf()].sort((a, b) => a - b)).toEqual(
        sorted.slice(count >> 1).sort((a, b) => a - b),
      );
      expect(emptied(list)).toEqual(sorted.slice(0, count >> 1));
    }
  });

  it('lets go of nodes that are gone, at the top or when it is purged', () => {
    for (const purges of [false, true]) {
      const { store, list, sorted } = filledList(300);
      for (const node of sorted) if (node % 3 === 0) store.status[node] = GONE;
      if (purges) {
        list.purge();
        expect(store.size).toBe(200);
        expect(list.size).toBe(200);
      }
      expect(emptied(list)).toEqual(sorted.filter((node) => node % 3 !== 0));
      expect(store.size).toBe(200);
    }
  });

  it('is emptied at once', () => {
    const { store, list, sorted } = filledList(50);
    store.status[7] = CLOSED;
    expect([...list.drain()].sort((a, b) => a - b)).toEqual(sorted.sort((a, b) => a - b));
    expect([list.size, store.status[8]]).toEqual([0, OPEN]);
  });
});

describe('the trail of paths', () => {
  it('tells the moves of a path, and after compaction those of the paths that were kept', () => {
    const random = seededRandom(3);
    const trail = new PathTrail(5000);
    const paths: number[][] = [];
    while (!trail.full) {
      const before = paths.length === 0 || random() < 0.01 ? NO_TRAIL : Math.floor(random() * paths.length);
      const move = Math.floor(random() * 100);
      const place = trail.add(before, move);
      paths[place] = [...(paths[before] ?? []), move];
    }
    paths.forEach((path, place) => expect(trail.movesTo(place)).toEqual(path));
    const kept = Int32Array.from([NO_TRAIL, 4999, 3, 2500, 2500]);
    const renumbered = trail.compact(kept);
    for (const place of kept.subarray(1)) expect(trail.movesTo(renumbered[place]!)).toEqual(paths[place]);
    expect(trail.size).toBeLessThan(60);
    expect(trail.bytes).toBe(40_000);
    expect(trail.movesTo(trail.add(renumbered[3]!, 77))).toEqual([...paths[3]!, 77]);
  });
});
