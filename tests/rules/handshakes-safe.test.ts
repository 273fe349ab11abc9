import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { seededRandom } from '../../src/base/random.js';
import type { Finding } from '../../src/model/finding.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { handshakesSafe, provedProperties } from '../../src/rules/handshakes-safe.js';
import { runOf } from '../../src/rules/program-run.js';
import { exploredWitness, exploreRun } from '../../src/rules/run-witness.js';
import { bareStage } from '../support/bare-plan.js';
import { bareRun, type Bare, type BareProgram } from '../support/bare-run.js';
import { testCell } from '../support/cell.js';
import { contextOf } from '../support/hand-made-plan.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

const judge = (plan: GeometricPlan): Finding[] => handshakesSafe.judge(contextOf(plan, programs));

const enter: Bare = ['enter'];
const leave: Bare = ['leave'];
const signal = (name: string): Bare => ['signal', name];
const wait = (name: string): Bare => ['await', name];

/** A handling robot that holds the wall while two welding robots tack it, together, and completes after the let-go. */
function twoTorches(
  change: Partial<Record<'handler' | 'left' | 'right', readonly Bare[]>> = {},
): BareProgram[] {
  const torch = (name: string): Bare[] => [
    ...[wait(`held-${name}`), enter, ['tack', `S-${name}`] as const, leave, signal(`secured-${name}`)],
    ...[wait(`away-${name}`), enter, ['tack', `C-${name}`] as const, leave],
  ];
  const handler: Bare[] = [
    ...[enter, ['hold'] as const, signal('held-left'), signal('held-right')],
    ...[wait('secured-left'), wait('secured-right'), ['let-go'] as const, leave],
    ...[signal('away-left'), signal('away-right')],
  ];
  return [
    { robot: 'handler', duty: 'handle', list: change.handler ?? handler },
    { robot: 'left', duty: 'weld', list: change.left ?? torch('left') },
    { robot: 'right', duty: 'weld', list: change.right ?? torch('right') },
  ];
}

describe('handshakes-safe with several welding robots', () => {
  it('lets them lay tacks of one stage and phase at once', () => {
    expect(judge(bareRun(twoTorches()))).toEqual([]);
  });

  it('wants the hold to last until every one is done', () => {
    const hasty = twoTorches({
      handler: [
        ...[enter, ['hold'] as const, signal('held-left'), signal('held-right'), wait('secured-left')],
        ...[['let-go'] as const, leave, wait('secured-right'), signal('away-left'), signal('away-right')],
      ],
    });
    const [finding, ...others] = judge(bareRun(hasty));
    expect(finding).toMatchObject({
      where: 'stages[1].tacks',
      message: 'nothing makes the arc of securing tack S-right end while wall is held',
    });
    // The right arc burns, and the let-go has begun.
    expect(finding!.trace).toEqual([
      'handler 1 to 4: enter work, hold wall, signal held-left, signal held-right',
      'left 1 to 5: await held-left, enter work, tack S-left, leave work, signal secured-left',
      'right 1 to 3: await held-right, enter work, tack S-right begun',
      'handler 5 to 6: await secured-left, let-go wall begun',
    ]);
    expect(others.map(({ message }) => message)).toEqual([
      'handler with wall and right of stage 2 may be in the work zone at once, and neither keeps still',
    ]);
  });

  it('keeps one that completes from one that still secures', () => {
    const early = twoTorches({
      left: [
        ...[wait('held-left'), enter, ['tack', 'S-left'] as const, ['tack', 'C-left'] as const, leave],
        ...[signal('secured-left'), wait('away-left')],
      ],
    });
    expect(judge(bareRun(early)).map(({ message }) => message)).toEqual([
      "nothing makes the arc of completing tack C-left begin between the handler's leaving wall and its bringing the next part",
      'left of stage 2 and right of stage 2 may be in the work zone at once, and neither keeps still',
    ]);
  });

  it('says of any number of robots what is proved', () => {
    const one = provedProperties(testCell());
    expect(one.join()).toContain('both robots');
    expect(provedProperties(testCell(), 'four-phase').slice(0, one.length)).toEqual(one);
  });
});

/** A second handling robot that brings the part of stage 3 as soon as it may, after it has awaited `due`. */
function thirdPart(due: readonly string[], torchesAwait: readonly string[]): GeometricPlan {
  const torch = (name: string): Bare[] => [
    ...([wait(`held-${name}`), ...torchesAwait.map((one) => wait(`${one}-${name}`)), enter] as const),
    ...[['tack', `S-${name}`] as const, leave, signal(`secured-${name}`)],
    ...(due.includes(`free-${name}`) ? [signal(`free-${name}`)] : []),
  ];
  const handler: Bare[] = [
    ...[enter, ['hold'] as const, signal('held-left'), signal('held-right')],
    ...(due.includes('held-second') ? [signal('held-second')] : []),
    ...[wait('secured-left'), wait('secured-right'), ['let-go'] as const, leave, signal('away-second')],
  ];
  const second: Bare[] = [
    ...[...due.map((one) => wait(one)), enter, ['hold', 'rib'] as const],
    ...torchesAwait.flatMap((one) => [signal(`${one}-left`), signal(`${one}-right`)]),
    ...(due.includes('away-second') ? [] : [wait('away-second')]),
    ...[['let-go', 'rib'] as const, leave],
  ];
  const plan = bareRun([
    { robot: 'handler', duty: 'handle', list: handler },
    { robot: 'left', duty: 'weld', list: torch('left') },
    { robot: 'right', duty: 'weld', list: torch('right') },
    { robot: 'second', duty: 'handle', list: second },
  ]);
  plan.stages.push({ ...bareStage('rib', 2), robot: 'second' });
  for (const step of plan.programs.at(-1)!.steps) step.stage = 3;
  plan.safety.witness = exploredWitness(plan);
  return plan;
}

describe('the order of the stages', () => {
  it('is kept by a second handling robot that waits until the first is away', () => {
    expect(judge(thirdPart(['away-second'], []))).toEqual([]);
  });

  it('is broken by one that holds its part still before the tacks of the stage before are laid', () => {
    const plan = thirdPart(['held-second'], ['rib-held']);
    expect(judge(plan).map(({ message }) => message)).toEqual([
      'nothing makes second wait with rib until handler of stage 2 is out of the work zone',
    ]);
    expect(exploreRun(runOf(plan))).toMatchObject({
      verdict: 'violated',
      problem: 'a part is brought before handler of stage 2 is out of the work zone',
    });
  });

  it('is broken by one that comes while what is secured is still to be let go', () => {
    const [finding] = judge(thirdPart(['free-left', 'free-right', 'held-second'], []));
    expect(finding).toMatchObject({ where: 'stages[2].part' });
  });
});

describe('a deadlock', () => {
  it('is told by who waits for whom, with a run that leads there', () => {
    const crossed = twoTorches({
      handler: [
        ...[enter, ['hold'] as const, signal('held-left'), wait('secured-left'), wait('secured-right')],
        ...[signal('held-right'), ['let-go'] as const, leave, signal('away-left'), signal('away-right')],
      ],
    });
    expect(judge(bareRun(crossed))).toEqual([
      {
        rule: 'handshakes-safe',
        where: 'handshakes',
        message:
          'deadlock: handler stuck at 5: await secured-right, sent by right in 5; ' +
          'left stuck at 6: await away-left, sent by handler in 9; right stuck at 1: await held-right, sent by handler in 6',
        trace: [
          'handler 1 to 3: enter work, hold wall, signal held-left',
          'left 1 to 5: await held-left, enter work, tack S-left, leave work, signal secured-left',
          'handler 4: await secured-left',
          'handler stuck at 5: await secured-right, sent by right in 5',
          'left stuck at 6: await away-left, sent by handler in 9',
          'right stuck at 1: await held-right, sent by handler in 6',
        ],
      },
    ]);
  });
});

/** Sound programs of two to four robots in which some neighbours have changed places. */
function shuffled(seed: number, robots: number): GeometricPlan {
  const random = seededRandom(seed);
  const pick = (n: number): number => Math.floor(random() * n);
  const second: Bare[] = [wait('free-left'), wait('free-right'), enter, ['let-go', 'rib'], leave];
  const [handler, left, right] = twoTorches();
  const made: BareProgram[] = [
    handler!,
    { ...left!, list: [...left!.list, signal('free-left')] },
    { ...right!, list: [...right!.list, signal('free-right')] },
    { robot: 'second', duty: 'handle', list: second },
  ];
  const names = made.slice(0, robots).map(({ robot }) => robot);
  const absent = ['left', 'right', 'second'].filter((name) => !names.includes(name));
  // What nobody sends or awaits is left out; the signals to the second handling robot only where it is there.
  const kept = ([kind, name]: Bare): boolean =>
    (kind !== 'signal' && kind !== 'await') ||
    !absent.some((one) => name!.endsWith(one) || (one === 'second' && name!.startsWith('free-')));
  const lists = made.slice(0, robots).map(({ list }) => list.filter(kept));
  for (let swaps = pick(4); swaps > 0; swaps -= 1) {
    const list = lists[pick(lists.length)]!;
    const at = pick(list.length - 1);
    [list[at], list[at + 1]] = [list[at + 1]!, list[at]!];
  }
  return bareRun(made.slice(0, robots).map((program, i) => ({ ...program, list: lists[i]! })));
}

describe('both witnesses', () => {
  it('agree on random programs of two to four robots', () => {
    const counts = { sound: 0, deadlock: 0, other: 0 };
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 2, max: 4 }), (seed, robots) => {
        const plan = shuffled(seed, robots);
        const findings = judge(plan);
        const { verdict, reduction } = exploreRun(runOf(plan));
        expect(reduction).toBe(robots === 2 ? 'none' : 'unseen-events-first');
        const blocked = findings.some(({ message }) => message.startsWith('deadlock: '));
        expect(findings.length === 0).toBe(verdict === 'ok');
        if (verdict === 'deadlock') expect(blocked).toBe(true);
        expect(findings.filter(({ message }) => message.startsWith('violated: '))).toEqual([]);
        for (const { trace } of findings) expect(trace?.length).toBeGreaterThan(0);
        counts[findings.length === 0 ? 'sound' : blocked ? 'deadlock' : 'other'] += 1;
      }),
      { seed: 7, numRuns: 300 },
    );
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(10);
  });

  it('agree on what the exploration of all states would see where events are passed over', () => {
    const plan = bareRun(twoTorches());
    const { states, complete } = plan.safety.witness;
    expect(complete).toBe(true);
    expect(states).toBeGreaterThan(10);
    plan.safety.witness.complete = false;
    plan.safety.witness.states = 2_000_001;
    expect(judge(plan).map(({ where }) => where)).toEqual([
      'safety.witness.states',
      'safety.witness.complete',
    ]);
  });
});
