import { readFileSync } from 'node:fs';
import { parse, stringify } from 'yaml';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Facts } from '../../src/facts/facts.js';
import { concerns, MovedReach } from '../../src/facts/moved-reach.js';
import { surveyReach, targetKey } from '../../src/facts/reach-survey.js';
import { targetsOf } from '../../src/facts/reach-tries.js';
import { axisZ } from '../../src/geometry/pose.js';
import { moveSize, movedCell } from '../../src/model/cell-move.js';
import type { Cell } from '../../src/model/cell.js';
import type { Weldment } from '../../src/model/weldment.js';
import { enoughSites } from '../../src/planning/enough-sites.js';
import { factsOf } from '../../src/planning/plan.js';
import { adviseCell } from '../../src/session/cell-advice.js';
import { cellGrid } from '../../src/session/cell-grid.js';
import { inspectSession } from '../../src/session/inspect-session.js';
import type { ReachView } from '../../src/report/reach-view.js';
import { planSession } from '../../src/session/plan.js';
import {
  exampleWith,
  inputsOf,
  planIn,
  sourcesOf,
  type CellEntries,
  type Files,
} from '../support/planned.js';

/** Our own invention: an upright plate tacked on both sides, and the bench of the stories with a straight torch. */
const STORIES = new URL('../stories/', import.meta.url);
const readYaml = (path: string): unknown => parse(readFileSync(new URL(path, STORIES), 'utf8'));
const TORCH = 400;

function filesWith(welderX: number): Files {
  const cell = readYaml('bench.cell.yaml') as CellEntries;
  return {
    weldment: readYaml('plate-tacked-on-both-sides/weldment.yaml') as Files['weldment'],
    cell: {
      ...cell,
      torches: { 'bent-torch': { length: TORCH } },
      robots: { ...cell.robots, welder: { ...cell.robots['welder']!, at: [welderX, 0, 0] } },
    },
  };
}

let programs: LinearPrograms;

function factsIn(files: Files): Facts {
  const { weldment, cell, settings } = inputsOf(files);
  return factsOf(weldment as Weldment, cell!, settings, programs);
}

beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** How many millimetres of reach the nearest wire position on the far seam shall lack. */
const MISSING = 40;
const FAR_SEAM = 'J1.2';

/**
 * Where on the x axis the welding robot stands so that the far seam is out of reach by `MISSING`, from closed geometry.
 * The torch is straight, so a roll about the wire leaves the wrist centre where it is: c4 and the torch's length behind
 * the tip. It lacks hypot(r - a1, z - c1) - (c2 + hypot(a2, c3)), with r its level distance from axis 1 (b = 0).
 */
function farEnough(): number {
  const facts = factsIn(filesWith(1250));
  const { arm } = facts.scene.cell.welders[0]!;
  const lacking = arm.c2 + Math.hypot(arm.a2, arm.c3) + MISSING;
  const [joint] = facts.joints;
  const seam = joint!.seams.find(({ id }) => id === FAR_SEAM)!;
  const places = facts.sites(joint!, seam).flatMap(({ ways }) =>
    ways.map(({ start }) => {
      const [x, y, z] = axisZ(start.turn).map((c, i) => start.at[i]! - (arm.c4 + TORCH) * c);
      const level = arm.a1 + Math.sqrt(lacking ** 2 - (z! - arm.c1) ** 2);
      return x! + Math.sqrt(level ** 2 - y! ** 2);
    }),
  );
  return Math.max(...places);
}

const reachOf = (files: Files): ReachView => {
  const outcome = inspectSession(sourcesOf(files), programs, { reach: {} });
  if (outcome.kind !== 'inspected') throw new Error(outcome.kind);
  return outcome.inspection.reach!;
};

/** The cell file with values written at paths such as `stations.table.at`. */
function written(
  { weldment, cell }: Files,
  write: { readonly path: string; readonly value: unknown }[],
): Files {
  const changed = parse(stringify(cell)) as CellEntries;
  for (const { path, value } of write) {
    const keys = path.split('.');
    const last = keys.pop()!;
    const at = keys.reduce(
      (node, key) => node[key] as Record<string, unknown>,
      changed as Record<string, unknown>,
    );
    at[last] = value;
  }
  return { weldment, cell: changed };
}

describe('a table shift that cures a cell', () => {
  let files: Files;
  let view: ReachView;

  beforeAll(() => {
    files = filesWith(farEnough());
    view = reachOf(files);
  });

  it('is asked for where a seam is out of reach by a known number of millimetres, which is told', () => {
    expect(view.needed).toEqual({ reached: 5, of: 6 });
    const missed = view.rows.flatMap((row) => row.missed);
    expect(missed.map(({ target, needed }) => [target, needed])).toEqual([[FAR_SEAM, true]]);
    expect(missed[0]!.nearest).toMatchObject({ code: 'reach-too-far', limit: 0, unit: 'mm' });
    expect(missed[0]!.nearest!.value).toBeCloseTo(MISSING, 6);
  });

  it('is told with the same number by the table of tack sites, and by the refusal to plan', () => {
    const inspected = inspectSession(sourcesOf(files), programs);
    if (inspected.kind !== 'inspected') throw new Error(inspected.kind);
    const { alone } = inspected.inspection.cell!.seams.find(({ id }) => id === FAR_SEAM)!;
    expect(alone.reached).toBe(0);
    expect(alone.against.map(({ code }) => code)).toEqual(['reach-too-far']);
    expect(alone.against[0]!.nearest.value).toBeCloseTo(MISSING, 6);

    const outcome = planSession(sourcesOf(files), { programs });
    if (outcome.kind !== 'impossible') throw new Error(outcome.kind);
    const reason = outcome.reasons.find(({ fact }) => fact?.kind === 'torch');
    expect(reason).toMatchObject({ code: 'no-securing', nearest: { code: 'seam-not-coverable' } });
    expect(reason!.nearest!.nearest).toMatchObject({ code: 'reach-too-far', unit: 'mm' });
    expect(reason!.nearest!.nearest!.value).toBeCloseTo(MISSING, 6);
  });

  it('is found: the smallest on the grid, and larger than what is missing', () => {
    const { outcome, change, left, rows } = view.advice;
    expect(outcome).toBe('cured');
    expect(change).toMatchObject({ moved: { what: 'table' }, shift: [100, 0, 0], turn: 0, size: 100 });
    expect(change!.size).toBeGreaterThan(MISSING);
    expect(left).toEqual([]);
    expect(rows.flatMap((row) => row.missed)).toEqual([]);
  });

  it('is the smallest: after every smaller change of the grid the changed cell misses the seam all the same', () => {
    const { scene, settings } = factsIn(files);
    const { change, tried } = view.advice;
    const smaller = cellGrid(scene.cell).slice(0, tried - 1);
    expect(smaller.length).toBeGreaterThan(50);
    for (const move of smaller) {
      expect(moveSize(move)).toBeLessThan(change!.size);
      const moved = factsOf(scene.weldment, movedCell(scene.cell, move), settings, programs);
      const seam = targetsOf(moved).filter((target) => 'seam' in target && target.seam.id === FAR_SEAM);
      expect(surveyReach(moved, enoughSites(moved), seam).map(({ reached }) => reached)).toEqual([false]);
    }
  });

  it('makes the plan possible that was not, with what it says to write in the cell file', () => {
    const moved = written(files, [...view.advice.change!.write]);
    expect(inputsOf(moved).cell!.table.pose.at).toEqual([100, 0, 500]);
    const plan = planIn(planSession(sourcesOf(moved), { programs }));
    expect(plan.stages.flatMap(({ tacks }) => tacks).some(({ seam }) => seam === FAR_SEAM)).toBe(true);
    expect(reachOf(moved).rows).toEqual(view.advice.rows);
  });

  it('is not looked for where nothing is missed', () => {
    const { needed, advice } = reachOf(filesWith(1250));
    expect(needed.reached).toBe(needed.of);
    expect(advice).toMatchObject({ outcome: 'none-needed', change: null, tried: 0 });
  });
});

describe('what cannot be cured on the grid', () => {
  it('is told with the change that leaves the fewest out of reach, or with none', () => {
    const { advice } = reachOf(filesWith(3000));
    expect(advice).toMatchObject({ outcome: 'none-found', change: null, rows: [] });
    expect(advice.tried).toBe(advice.of);
  });

  it('is told with how many places were tried when the search ends early', () => {
    const { unmet, better, tried, of } = adviseCell(factsIn(filesWith(farEnough())), programs, {
      mostQuestions: 10,
    });
    expect(unmet.length).toBeGreaterThan(0);
    expect(better).toBeUndefined();
    expect(tried).toBeGreaterThan(0);
    expect(tried).toBeLessThan(of);
  });
});

describe('MovedReach', () => {
  it('rules out no target that the changed cell itself reaches, keep-outs and all', () => {
    const { weldment, cell } = exampleWith('roller-stand', 'base', 'cheek-left');
    const files: Files = {
      weldment,
      cell: {
        ...cell,
        robots: { ...cell.robots, welder: { ...cell.robots['welder']!, at: [2000, 0, 0] } },
        'keep-outs': [{ at: [-150, 250, 500], size: [200, 120, 300] }],
      },
    };
    const { scene, settings } = factsIn(files);
    const factsOn = (changed: Cell): Facts => factsOf(scene.weldment, changed, settings, programs);
    const bare = factsOn({ ...scene.cell, keepOuts: [] });
    const screen = new MovedReach(bare, enoughSites(bare));
    const seen = { ruledOut: 0, open: 0 };
    for (const move of cellGrid(scene.cell).filter((_, i) => i % 331 === 0)) {
      const moved = factsOn(movedCell(scene.cell, move));
      const survey = surveyReach(moved, enoughSites(moved));
      const reached = survey.filter((one) => one.reached).map(({ target }) => targetKey(scene, target));
      const may = screen.after(move);
      for (const target of targetsOf(bare).filter((one) => concerns(move, scene.cell, one))) {
        const open = may(target);
        seen[open ? 'open' : 'ruledOut'] += 1;
        if (reached.includes(targetKey(scene, target))) expect(open).toBe(true);
      }
    }
    expect(seen.ruledOut).toBeGreaterThan(3);
    expect(seen.open).toBeGreaterThan(3);
  });
});
