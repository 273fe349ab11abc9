import { describe, expect, it } from 'vitest';
import type { Step } from '../../src/model/plan.js';
import { columns } from '../../src/report/plain.js';
import { timeByKind, timeTable } from '../../src/report/time-text.js';
import { smallPlan } from './small-plan.js';

const still = [0, 0, 0, 0, 0, 0];
/** Steps one behind the other, each by what it is and how long it takes. */
function steps(...list: readonly (readonly [object, number])[]): Step[] {
  let at = 0;
  return list.map(([own, seconds], i) => {
    const start = at;
    at += seconds;
    return { n: i + 1, stage: 1, start, end: at, ...own } as Step;
  });
}

const HANDLER = steps(
  [{ do: 'move', path: 'joint', to: still, place: 'a' }, 2],
  [{ do: 'move', path: 'straight', to: still, place: 'a' }, 1.25],
  [{ do: 'grip', part: 'a', gripper: 'wide' }, 0.8],
  [{ do: 'enter', zone: 'work' }, 0],
  [{ do: 'hold', part: 'a' }, 0.5],
  [{ do: 'await', handshake: 'h', at: 'home' }, 10],
  [{ do: 'let-go', part: 'a' }, 1.2],
  [{ do: 'move', path: 'joint', to: still, place: 'a' }, 1],
  [{ do: 'change-gripper', to: 'small' }, 8],
);
const WELDER = steps(
  [{ do: 'seam-search', joint: 'j' }, 4],
  [{ do: 'tack', tack: 't' }, 5.5],
  [{ do: 'signal', handshake: 'h' }, 0],
);

const plan = () => ({
  ...smallPlan(),
  programs: [
    { robot: 'handler', duty: 'handle' as const, steps: HANDLER },
    { robot: 'welder', duty: 'weld' as const, steps: WELDER },
  ],
});

describe('timeTable', () => {
  it('says what the seconds of each robot go into', () => {
    expect(timeTable(plan())).toEqual([
      '',
      'Time by kind of step, s:',
      'robot    joint moves  straight moves  gripping, clamping, settling  tool change  arc  search  waits   sum',
      'handler          3.0             1.3                           2.5          8.0  0.0     0.0   10.0  24.8',
      'welder           0.0             0.0                           0.0          0.0  5.5     4.0    0.0   9.5',
    ]);
    for (const line of timeTable(plan())) expect(columns(line)).toBeLessThanOrEqual(110);
  });

  it('leaves no second of a program out', () => {
    const sum = [...timeByKind(HANDLER).values()].reduce((all, one) => all + one, 0);
    expect(sum).toBeCloseTo(HANDLER.at(-1)!.end, 9);
  });

  it('says nothing of programs that take no time', () => {
    expect(timeTable(smallPlan())).toEqual([]);
  });
});
