import { describe, expect, it } from 'vitest';
import { columns } from '../../src/report/plain.js';
import { changeText, reachText } from '../../src/report/reach-text.js';
import type { ChangeView, ReachRow, ReachView } from '../../src/report/reach-view.js';

const handling: ReachRow = {
  robot: 'handler',
  place: 'infeed',
  what: 'parts',
  targets: { reached: 1, of: 2 },
  ways: { reached: 12, of: 1040 },
  worst: { target: 'base', degrees: 43.26, joint: 3 },
  missed: [{ target: 'lid', needed: false, ways: { reached: 0, of: 0 }, nearest: null }],
};
const welding: ReachRow = {
  robot: 'welder',
  place: 'table',
  what: 'seams',
  targets: { reached: 0, of: 1 },
  ways: { reached: 1, of: 15 },
  worst: null,
  missed: [
    {
      target: 'J1.2',
      needed: true,
      ways: { reached: 1, of: 15 },
      nearest: { code: 'reach-too-far', subjects: ['J1', 'J1.2', 'welder'], value: 40, limit: 0, unit: 'mm' },
    },
  ],
};
const change: ChangeView = {
  moved: { what: 'table' },
  shift: [100, 0, -50],
  turn: 0,
  size: 111.8,
  write: [
    { path: 'stations.table.at', value: [100, 0, 450] },
    { path: 'stations.table.weldment-at', value: [100, 0, 450] },
  ],
};
const view: ReachView = {
  rows: [handling, welding],
  needed: { reached: 4, of: 5 },
  advice: { outcome: 'cured', change, left: [], rows: [{ ...handling, missed: [] }], tried: 81, of: 5276 },
};
const advised = (advice: Partial<ReachView['advice']>): string =>
  reachText('bench', { ...view, advice: { ...view.advice, ...advice } }).join('\n');

describe('reachText', () => {
  it('tells robots, places, margins, misses, the change and its limits', () => {
    expect(reachText('bench', view)).toEqual([
      '',
      'Reach in bench (limits and straight strokes of each arm; parts and other arms are not in the way):',
      '  robot    at          gets to       by                 least margin to a limit',
      '  handler  infeed      1 of 2 parts  12 of 1,040 grips  43.3 deg at joint 3, base',
      '  welder   work table  0 of 1 seams  1 of 15 sites      -',
      '  - handler does not get to lid (infeed): no grip or rest to try',
      '  ! welder does not get to J1.2 (work table): 1 of 15 sites only; nearest miss: out of reach, too far by 40',
      '                                              mm, limit 0 mm',
      '  Of 5 parts at the infeed, final places and seams, which every plan needs, some robot gets to 4; "!" marks',
      '  the others.',
      '',
      'Advice on the cell:',
      '  Smallest change found that brings all that every plan needs into reach and loses nothing (81 of 5,276 places',
      '  of the grid tried, smallest change first):',
      '    shift the work table with the weldment on it by +100 mm along x and -50 mm along z',
      '    in the cell file:',
      '      stations.table.at: [100, 0, 450]',
      '      stations.table.weldment-at: [100, 0, 450]',
      '    what robots get to then:',
      '    robot    at      gets to       by                 least margin to a limit',
      '    handler  infeed  1 of 2 parts  12 of 1,040 grips  43.3 deg at joint 3, base',
      '  This speaks of reach only: collisions, grips and tacks are not judged here, and a plan in the changed cell',
      '  shows whether all else fits.',
    ]);
  });

  it('tells what is left where nothing cures, and that nothing helps or is needed', () => {
    expect(advised({ outcome: 'better', left: [{ place: 'table', target: 'J9.1' }] })).toContain(
      'then still out of reach: J9.1 (work table)',
    );
    const none = { change: null, rows: [] };
    expect(advised({ outcome: 'none-found', ...none })).toContain(
      'No change that was tried brings more into reach (81 of 5,276 places of the grid tried',
    );
    expect(advised({ outcome: 'none-needed', ...none })).toContain('no change is looked for');
  });

  it('names at most twelve misses of one robot and place, and keeps within the width', () => {
    const missed = Array.from({ length: 15 }, (_, i) => ({ ...welding.missed[0]!, target: `J${i}` }));
    const lines = reachText('bench', { ...view, rows: [{ ...welding, missed }] });
    expect(lines.filter((line) => line.includes('does not get to'))).toHaveLength(12);
    expect(lines).toContain('    and 3 more');
    for (const line of lines) expect(columns(line)).toBeLessThanOrEqual(110);
  });
});

describe('changeText', () => {
  it('tells shifts and turns of anything that is moved', () => {
    expect(changeText({ ...change, shift: [0, 0, 0], turn: -15 })).toBe(
      'turn the work table with the weldment on it by -15 degrees about the vertical through its own origin',
    );
    expect(
      changeText({ ...change, moved: { what: 'robot', id: 'welder' }, shift: [0, 150, 0], turn: 30 }),
    ).toBe(
      'shift the base of welder by +150 mm along y and turn it by +30 degrees about the vertical through its own origin',
    );
  });
});
