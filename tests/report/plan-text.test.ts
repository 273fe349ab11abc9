import { describe, expect, it } from 'vitest';
import type { AbstractPlan } from '../../src/model/plan.js';
import { columns } from '../../src/report/plain.js';
import { planText } from '../../src/report/plan-text.js';
import { powerLossTable, rangesText } from '../../src/report/power-loss-text.js';
import { heldText, stageTable } from '../../src/report/stage-table.js';
import { leastReserveLines, weakestReserve, weakestText } from '../../src/report/weakest-point.js';
import { reserve, smallPlan } from './small-plan.js';

const SMALL = [
  'corner on bench: 2 parts, 1 contact, 2 joints (1 given, 1 proposed)',
  'Best found: 1 regrip, 0 tool changes, 2 min 0 s. Regrips and tool changes proved least within the 3',
  'approaches, 40 grips, 12 rests and 9 tack sites considered for 2 parts and the policies below. Time: best of 4',
  'complete orders, at most 20% above its bound of 1 min 40 s. Searched: 11 states.',
  '',
  'stage  joins  taken by             held while tacking  securing  later  weakest point',
  '    1  base   wide, +z             nothing, clamped           -      -  every reserve 10 or more',
  '    2  wall   wide, +z, after 1    by handler                 2      1  1.83 (needs 1.5) torch touch J1.1@1',
  '              regrip (first on                                          along while held: pad 2 on wall',
  '              -z)',
  '',
  'Least reserves:',
  '  stage 2, 1.83 (needs 1.5) torch touch J1.1@1 along while held: pad 2 on wall',
  '',
  'When power or air is lost while a part is held:',
  'stage  gripper  kind            what that means',
  '    2  wide     stored-seconds  the pull stays, without end',
  '',
  'Tacks, in order (seam, and mm from its start; `inspect` shows the seams):',
  'stage  while held              after the let-go',
  '    2  J1.1 10-42, J1.1 20-52  J1.1 30-62',
  '',
  'Strength of tacks: the reserves rest on a temporary-strength model, 9 kN a tack cold, of which 0.5 is counted',
  '                   on for fusion; it is no strength by any code. Of 3 tacks: all of them are too short to',
  '                   count by EN 1993-1-8 (4.5.1), so by that code no load-carrying welds. When a part is let',
  '                   go, at least 2 s after the last arc, its securing tacks are taken to be at 300 C, which',
  '                   leaves 100 % of that (a stated model of cooling, our estimate).',
  '',
  'Handshakes: 0; every interleaving of the programs explored in 1,234 states; proved: no deadlock.',
  '',
  'Faults: none was executed. Not covered: lost signals.',
  '',
  'Timeline, 1.35 s a mark (what fills most of it):',
  '  time     0                     30 s                   1 min                 1 min 30 s',
  '  stage    1             2',
  '  handler  fffffffffffffffffffffffffffffffffffffffffffff.............................oooooooo',
  '  stage    2',
  '  welder   .............................................############################################',
  '  f fetch, # tack, . wait, o other: dance',
  '  too short to show: clamp',
  '  Waits: handler 40 s, welder 1 min 0 s',
  '',
  'Makespan: 2 min 0 s, least for this order of the parts and these steps.',
  'Critical path: handler: fetch 1, clamp 1, fetch 2; welder: tack 2; handler: dance 2.',
  '',
  'Policies (what is proved is proved of plans made this way):',
  '  - the fewest tacks on each seam',
  '',
  'Not checked:',
  '  - distortion',
  '',
  'Cautions:',
  '  - Held parts fall.',
];

const lines = (text: string): string[] => text.replace(/\n$/, '').split('\n');

describe('planText', () => {
  it('says all of a small plan', () => {
    expect(lines(planText(smallPlan(), { contacts: 1 }))).toEqual(SMALL);
  });

  it('leaves the contacts out when nobody counted them', () => {
    expect(lines(planText(smallPlan()))[0]).toBe('corner on bench: 2 parts, 2 joints (1 given, 1 proposed)');
  });

  it('keeps names from writing on the terminal', () => {
    const plan = smallPlan();
    plan.weldment.name = 'a\u001b[2J';
    plan.stages[1]!.part = 'wall\u202e\u0007';
    plan.stages[1]!.reserves[1]!.weakest = 'pad\u0008';
    plan.programs[0]!.robot = 'x\u001bc';
    plan.timeline.activities[4]!.what = '\u001b]0;own\u0007';
    plan.warnings.push('\u009b1m');
    const text = planText(plan);
    // eslint-disable-next-line no-control-regex
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202e]/);
    for (const shown of ['a\\u001b[2J', 'wall\\u202e', 'pad\\u0008', 'x\\u001bc', '\\u009b1m'])
      expect(text).toContain(shown);
  });

  it('never goes beyond 110 columns and leaves no blanks behind', () => {
    const plan = smallPlan();
    const long = 'a name of eighty characters is as long as a name in a file may ever be, and so on';
    plan.stages[1]!.part = long;
    plan.stages[1]!.handling[1]!.grip.gripper = long.replaceAll(' ', '-');
    plan.stages[1]!.reserves[1]!.weakest = `pad 2 on ${long}`;
    plan.programs[0]!.robot = long;
    plan.cautions.push(long.repeat(4));
    for (const line of lines(planText(plan))) {
      expect(columns(line)).toBeLessThanOrEqual(110);
      expect(line).toBe(line.trimEnd());
    }
  });

  it('is short for a weldment without shapes', () => {
    const { format, version, settings, objective, proof } = smallPlan();
    const plan: AbstractPlan = {
      ...{ format, version, settings, objective },
      ...{ kind: 'abstract', weldment: { name: 'ring', digest: '' }, cautions: [], warnings: [] },
      proof: { ...proof, policies: [], notChecked: [] },
      rulesNotApplied: [{ rule: 'reach', why: 'no arm is given' }],
      stages: [
        { number: 1, part: 'a', gripper: null, regrips: 0, tacks: 0, seconds: 0 },
        { number: 2, part: 'b', gripper: 'wide', regrips: 1, tacks: 3, seconds: 1234.5 },
      ],
    };
    expect(lines(planText(plan))).toEqual([
      'ring, without shapes: 2 parts',
      'Best found: 1 regrip, 0 tool changes, 2 min 0 s. Regrips and tool changes proved least within the 40 given',
      'ways of 2 parts. Time: best of 4 complete orders, at most 20% above its bound of 1 min 40 s. Searched: 11',
      'states.',
      '',
      'stage  joins  taken by  regrips  tacks  seconds',
      '    1  a      -               -      -        0',
      '    2  b      wide            1      3  1,234.5',
      '',
      'Rules that do not apply:',
      '  - reach: no arm is given',
    ]);
  });
});

describe('the weakest point', () => {
  it('is the least ratio of reserve to what is required, not the least reserve', () => {
    const gravity = reserve('held', 'gravity', 1.5, 'pad 1 on lid', 1.2);
    const push = reserve('complete', 'push', 1.6, 'contact of lid and web', 1.5);
    expect(weakestReserve([gravity, push])).toBe(push);
    expect(weakestText([gravity, push])).toBe('1.6 (needs 1.5) push with all tacks: contact of lid and web');
  });

  it('is the first of equals', () => {
    const [first, second] = [reserve('held', 'a', 2), reserve('held', 'b', 2)];
    expect(weakestReserve([first, second])).toBe(first);
  });

  it('cries out when a reserve is too low', () => {
    expect(weakestText([reserve('let-go', 'push', 1.4999)])).toBe(
      '1.49 (needs 1.5, TOO LOW) push once let go',
    );
  });

  it('says so when nothing was judged', () => {
    expect(weakestText([])).toBe('not judged');
  });
});

describe('the least reserves of a plan', () => {
  it('name the weakest grip that carries, unless it carries ten times as much', () => {
    const plan = smallPlan();
    expect(leastReserveLines(plan).join(' ')).not.toContain('carried');
    plan.stages[1]!.handling[0]!.carried = { case: 'emergency stop up', required: 1.1, reserve: 1.299 };
    expect(leastReserveLines(plan).at(-1)).toBe(
      '  while carried: stage 2, 1.29 (needs 1.1) emergency stop up: wall on wide',
    );
  });
});

describe('what a loss of power means', () => {
  it('is said once for all stages in which it means the same', () => {
    const plan = smallPlan();
    const [, second] = plan.stages;
    const loss = { part: 'wall', gripper: 'wide', seconds: null, zone: null };
    const falls = { ...loss, kind: 'exclusion-zone' as const, zone: { at: [10, -20] as [number, number], radius: 310.2 } }; // prettier-ignore
    const stands = { ...loss, gripper: 'cups', kind: 'must-stand' as const };
    const stored = { ...loss, gripper: 'cups', kind: 'stored-seconds' as const, seconds: 90 };
    const stage = (number: number, ...powerLoss: (typeof second & object)['powerLoss']) => ({
      ...second!,
      ...{ number, powerLoss },
    });
    const stages = [stage(2, falls), stage(3, falls, stands), stage(4, falls), stage(6, stored)];
    expect(powerLossTable({ stages })).toEqual([
      '',
      'When power or air is lost while a part is held:',
      ' stage  gripper  kind            what that means',
      '2 to 4  wide     exclusion-zone  the part may fall: nobody within 311 mm of 10, -20 in the cell',
      '     3  cups     must-stand      the part is let go; it stands by itself',
      '     6  cups     stored-seconds  the pull stays for 90 s',
    ]);
    expect(powerLossTable({ stages: [] })).toEqual([]);
  });

  it('tells stages as ranges', () => {
    expect(rangesText([1, 3, 4, 6, 7, 8, 10])).toBe('1, 3, 4, 6 to 8, 10');
  });
});

describe('heldText', () => {
  const [, stage] = smallPlan().stages;
  const alsoHeld = { robot: 'handler', part: 'tall' } as NonNullable<(typeof stage & object)['alsoHeld']>;

  it('says on what a newcomer stands while an earlier part is held', () => {
    const standsOn = { table: true, parts: ['base'] };
    expect(heldText({ ...stage!, held: null, alsoHeld, stands: 'free-standing', standsOn })).toBe(
      'tall by handler; the newcomer stands on base and the table',
    );
  });

  it('says that a part is held on, and with what pull its tacks are proved', () => {
    expect(heldText({ ...stage!, stands: 'held' })).toBe('by handler, held on after its tacks');
    expect(heldText({ ...stage!, proofPull: 50 })).toBe('by handler, proof pull 50 N');
  });
});

describe('stageTable', () => {
  it('names the gripper of the first grip when it is another', () => {
    const plan = smallPlan();
    plan.stages[1]!.handling[0]!.grip.gripper = 'small';
    expect(stageTable(plan.stages).join(' ')).toMatch(/after 1 +.*regrip \(first on.*-z, small\)/);
  });
});
