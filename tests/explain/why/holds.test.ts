import { describe, expect, it } from 'vitest';
import { holdsUnder } from '../../../src/explain/why/holds.js';
import type { FactKind } from '../../../src/model/reason-fact.js';
import type { Wish } from '../../../src/model/wish.js';

const pinned = { soft: false, weight: 1, never: false } as const;
const reserve = (part: string) => ({ kind: 'reserve', part }) as const;

describe('holdsUnder', () => {
  it('tells which part is in place when a part comes, by an order that is wished', () => {
    const wish: Wish = { before: ['rib', 'wall'], ...pinned };
    expect(holdsUnder(wish, reserve('wall'))).toEqual({ when: 'with', part: 'rib' });
    expect(holdsUnder(wish, reserve('rib'))).toEqual({ when: 'without', part: 'wall' });
    expect(holdsUnder(wish, reserve('lid'))).toEqual({ when: 'otherwise' });
  });

  it('tells that a part is the first, or that the first is in place', () => {
    const wish: Wish = { first: 'rib', ...pinned };
    expect(holdsUnder(wish, reserve('rib'))).toEqual({ when: 'first' });
    expect(holdsUnder(wish, reserve('lid'))).toEqual({ when: 'with', part: 'rib' });
  });

  it('tells that only plans with another grip, hold or tack are meant, of the part that is asked about', () => {
    const wishes: Wish[] = [
      { grip: 'rib', gripper: 'wide', ...pinned, never: true },
      { regrips: 'rib', most: 0, ...pinned },
      { held: 'rib', ...pinned, never: true },
      { tack: ['base', 'rib'], near: [0, 0, 0], within: 10, ...pinned, never: true },
    ];
    for (const wish of wishes) {
      expect(holdsUnder(wish, reserve('rib'))).toEqual({ when: 'otherwise' });
      expect(holdsUnder(wish, reserve('lid'))).toBeUndefined();
    }
  });

  it('says nothing of what the files say or of what names all that it hangs on', () => {
    const everywhere: FactKind[] = ['needs', 'blocking', 'first', 'wish', 'contact', 'rest', 'approach'];
    for (const kind of everywhere)
      expect(holdsUnder({ first: 'rib', ...pinned }, { kind, part: 'rib' })).toBeUndefined();
  });
});
