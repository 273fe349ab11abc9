import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { cover, respected } from '../../src/algorithms/covering.js';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { sidesMissed } from '../../src/model/seam-relations.js';
import { factsOf } from '../../src/planning/plan.js';
import { fewestTacks, seamChoices, seamCover, type SeamCover } from '../../src/planning/seam-row.js';
import { coverJoint, jointPrograms, smallJoint } from '../../src/planning/tack-covering.js';
import { readInputs } from '../../src/session/inputs.js';
import { asMixedInteger, coveredSeam, type SeamWish } from './covered-seams.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const startsOf = (tacks: ReturnType<typeof coverJoint>): number[][] =>
  tacks!.map((own) => own.map(({ start }) => start));
const middlesOf = (seam: SeamCover, starts: readonly number[]): number[] =>
  starts.map((start) => start + seam.tackLength / 2);

describe('the tacks of one seam', () => {
  it('are the fewest: two of 40 mm on 300 mm at a pitch of 240, three at 95', () => {
    const wish = { length: 300, tack: 40, pitch: 240 };
    expect(startsOf(coverJoint([coveredSeam(wish)], 'paired'))).toEqual([[10, 250]]);
    const dense = startsOf(coverJoint([coveredSeam({ ...wish, pitch: 95 })], 'paired'))[0]!;
    expect(dense).toHaveLength(3);
  });

  it('leave nothing beyond the pitch, at the ends neither, and do not overlap', () => {
    const seam = coveredSeam({ length: 1000, tack: 50, pitch: 300 });
    const middles = middlesOf(seam, startsOf(coverJoint([seam], 'free'))[0]!);
    const stops = [0, ...middles, 1000];
    expect(Math.max(...stops.slice(1).map((stop, i) => stop - stops[i]!))).toBeLessThanOrEqual(300);
  });

  it('are none where too much is blocked', () => {
    const blocked = [[100, 360]] as const;
    expect(
      coverJoint([coveredSeam({ length: 400, tack: 40, pitch: 240, blocked })], 'paired'),
    ).toBeUndefined();
  });

  it('go where they can be laid while the part is held, if that takes no tack more', () => {
    const notHeld = [[0, 60]] as const;
    const [starts] = startsOf(
      coverJoint([coveredSeam({ length: 300, tack: 40, pitch: 240, notHeld })], 'free'),
    );
    expect(starts![0]! + 20).toBeGreaterThan(60);
    expect(starts).toHaveLength(2);
  });
});

describe('the two sides of a joint', () => {
  const wish = { length: 300, tack: 40, pitch: 240 };
  const both = (front: Partial<SeamWish> = {}, back: Partial<SeamWish> = {}): readonly SeamCover[] => [
    coveredSeam({ ...wish, ...front }),
    coveredSeam({ ...wish, ...back, back: true }),
  ];
  const missed = (seams: readonly SeamCover[], sides: 'paired' | 'staggered'): number => {
    const runs = seams.map(({ run }) => run);
    return sidesMissed(sides, runs, coverJoint(seams, sides)!).flat().length;
  };

  it('paired: the side that is free follows the one that is not', () => {
    const seams = both({ notHeld: [[0, 60]] });
    const [front, back] = startsOf(coverJoint(seams, 'paired'));
    // The back runs the other way, so that the start of a tack opposite is measured from the other end.
    expect(back!.map((start) => 300 - start - 40).reverse()).toEqual(front);
    expect(front![0]).toBeGreaterThan(40);
    expect(missed(seams, 'paired')).toBe(0);
    expect(startsOf(coverJoint(seams, 'free'))[1]).toEqual([10, 250]);
  });

  it('paired: a blocked place costs the pair and no tack, and is told', () => {
    // The front is open to x = 120, the back, measured from the other end, from x = 140 on.
    const seams = both({ blocked: [[120, 300]] }, { blocked: [[160, 300]] });
    const [front, back] = coverJoint(seams, 'paired')!;
    expect([front!.length, back!.length]).toEqual([2, 2]);
    expect(missed(seams, 'paired')).toBe(4);
  });

  it('staggered: no tack faces another, with as few tacks', () => {
    const seams = both();
    expect(coverJoint(seams, 'staggered')!.map((own) => own.length)).toEqual([2, 2]);
    expect(missed(seams, 'staggered')).toBe(0);
    const paired = coverJoint(seams, 'paired')!;
    expect(
      sidesMissed(
        'staggered',
        seams.map(({ run }) => run),
        paired,
      ).flat(),
    ).toHaveLength(4);
  });

  it('staggered: half a pitch apart where there is room', () => {
    const long = { length: 1000, tack: 40, pitch: 300 };
    const seams = [coveredSeam(long), coveredSeam({ ...long, back: true })];
    const [front, back] = coverJoint(seams, 'staggered')!;
    const across = back!.map(({ start }) => 1000 - start - 20);
    const nearest = front!.map(({ start }) => Math.min(...across.map((x) => Math.abs(x - start - 20))));
    expect(Math.min(...nearest)).toBeGreaterThanOrEqual(150 - 1e-6);
  });
});

const stretch = fc
  .tuple(fc.integer({ min: 0, max: 600 }), fc.integer({ min: 0, max: 90 }))
  .map(([low, width]) => [low, low + width] as const);
const seamWish = fc.record({
  length: fc.integer({ min: 80, max: 600 }),
  tack: fc.constantFrom(20, 32, 40, 50),
  pitch: fc.integer({ min: 80, max: 300 }),
  least: fc.integer({ min: 1, max: 2 }),
  blocked: fc.array(stretch, { maxLength: 3 }),
  notHeld: fc.array(stretch, { maxLength: 2 }),
});

describe('random seams', () => {
  it('the walk along a seam and a program by HiGHS need the same number of tacks', () => {
    let none = 0;
    fc.assert(
      fc.property(seamWish, (wish) => {
        const seam = coveredSeam(wish);
        const walk = fewestTacks(seam);
        const choices = seamChoices(seam);
        const outcome = programs.solve(asMixedInteger({ costs: seam.sites.map(() => 1), choices }));
        expect(outcome.status).toBe(walk === undefined ? 'infeasible' : 'optimal');
        if (walk === undefined) none += 1;
        if (walk === undefined || outcome.status !== 'optimal') return;
        expect(walk.length).toBe(Math.round(outcome.objective));
        expect(choices.every((choice) => respected(choice, walk))).toBe(true);
      }),
      { numRuns: 150, seed: 61 },
    );
    expect(none).toBeGreaterThan(10);
  });

  it('programs of two sides cost by HiGHS what the covering solver finds, and need no tack more', () => {
    fc.assert(
      fc.property(
        seamWish,
        fc.array(stretch, { maxLength: 2 }),
        fc.constantFrom('paired' as const, 'staggered' as const, 'free' as const),
        (wish, blocked, sides) => {
          const seams = [coveredSeam(wish), coveredSeam({ ...wish, blocked, back: true })];
          const small = smallJoint(seams);
          if (small === undefined) {
            expect(coverJoint(seams, sides)).toBeUndefined();
            return;
          }
          const program = jointPrograms(small.seams, small.counts, sides)[0]!();
          const own = cover(program, 2000);
          // HiGHS takes minutes to refute a stagger for which there is no room; then the next program is tried anyhow.
          if (own.status === 'optimal') {
            const witness = programs.solve(asMixedInteger(program));
            expect(witness.status).toBe('optimal');
            if (witness.status === 'optimal') expect(own.cost).toBe(Math.round(witness.objective));
          }
          const tacks = coverJoint(seams, sides)!;
          expect(tacks.map((list) => list.length)).toEqual(small.counts);
          tacks.forEach((list, i) => {
            const numbers = list.map((site) => seams[i]!.sites.indexOf(site));
            expect(seamChoices(seams[i]!).every((choice) => respected(choice, numbers))).toBe(true);
          });
        },
      ),
      { numRuns: 60, seed: 62 },
    );
  });
});

describe('long seams', () => {
  it('have small programs, with no tack more than a walk over all sites needs', () => {
    const wish = { length: 12_000, tack: 50, pitch: 300, blocked: [[2000, 2250]] as const };
    const seams = [coveredSeam(wish), coveredSeam({ ...wish, blocked: [], back: true })];
    expect(seams[0]!.sites.length).toBeGreaterThan(1000);
    const small = smallJoint(seams)!;
    expect(small.counts).toEqual(seams.map((seam) => fewestTacks(seam)!.length));
    for (const { sites } of small.seams) expect(sites.length).toBeLessThanOrEqual(40 + 2 * small.counts[0]!);
    const tacks = coverJoint(seams, 'paired')!;
    expect(tacks.map((list) => list.length)).toEqual(small.counts);
  });
});

describe('the joints of an example', () => {
  const source = (path: string) => {
    const url = new URL(`../../examples/${path}`, import.meta.url);
    return { text: readFileSync(url, 'utf8'), name: path };
  };

  it('cost by HiGHS what the covering solver finds', () => {
    const { weldment, cell, settings } = readInputs({
      weldment: source('ladder-bracket/ladder-bracket.weldment.yaml'),
      cell: source('cells/twin-bench.cell.yaml'),
    }).inputs!;
    if (weldment.kind !== 'geometric') throw new Error('has shapes');
    const facts = factsOf(weldment, cell!, settings, programs);
    let solved = 0;
    for (const joint of facts.joints) {
      const seams = joint.seams.map((seam) => {
        const sites = facts.sites(joint, seam);
        const held = sites.map((_, i) => i % 3 !== 1);
        return seamCover(facts, joint, seam, sites, held);
      });
      const small = smallJoint(seams);
      if (small === undefined) continue;
      const program = jointPrograms(small.seams, small.counts, 'paired')[0]!();
      const [own, witness] = [cover(program), programs.solve(asMixedInteger(program))];
      if (own.status !== 'optimal' || witness.status !== 'optimal') throw new Error('has tacks');
      expect(own.cost).toBe(Math.round(witness.objective));
      solved += 1;
    }
    expect(solved).toBeGreaterThan(5);
  });
});
