import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { buildScene } from '../../src/model/scene.js';
import { replayedStages, type Replayed } from '../../src/rules/distortion-replay.js';
import type { SeamPlace } from '../../src/rules/seam-places.js';
import {
  tackedUp,
  weldAccount,
  weldRuns,
  weldSeams,
  weldSegments,
  Welding,
  WELD_WAYS,
  type WeldWay,
} from '../../src/rules/weld-run.js';
import { readInputs } from '../../src/session/inputs.js';
import { benchSources, tackedPlan } from '../support/tacked-plan.js';

const LENGTH = 620;

let context: Replayed;
let seam: SeamPlace;

// Our own invention: an upright plate on a base, tacked at the ends of one seam.
beforeAll(async () => {
  const sources = benchSources({
    weldment: 'long-plate',
    parts: {
      base: { plate: { length: 700, width: 200, thickness: 10 }, at: [0, 0, 5] },
      plate: { plate: { length: LENGTH, width: 100, thickness: 8 }, at: [0, 0, 60], turn: [-90, 0, 0] },
    },
    joints: [{ between: ['base', 'plate'], sides: 'both', leg: 4 }],
    first: 'base',
  });
  const plan = tackedPlan(sources, await loadLinearPrograms(), [
    ['base'],
    ['plate', { seam: 'J1.1', start: 10 }, { seam: 'J1.1', start: 580 }],
  ]);
  const { weldment, cell } = readInputs(sources).inputs!;
  if (weldment.kind !== 'geometric') throw new Error('no shapes');
  const scene = buildScene(weldment, cell!, plan.settings);
  context = { plan, cell: cell!, settings: plan.settings, scene };
  seam = weldSeams(context, replayedStages(context)!)[0]!;
});

const stretches = (way: WeldWay): (readonly [number, number])[] =>
  weldRuns(seam, way, context.settings).map(({ from, to }) => [from, to]);

describe('the ways to lay a seam', () => {
  it('are runs of whole segments: 620 mm are seven of 88.6 mm, in steps of two', () => {
    expect(stretches('forwards')).toEqual([[0, 620]]);
    expect(stretches('backwards')).toEqual([[620, 0]]);
    expect(stretches('back-step')).toEqual([
      [177.143, 0],
      [354.286, 177.143],
      [531.429, 354.286],
      [620, 531.429],
    ]);
    expect(stretches('skip')).toEqual([
      [0, 177.143],
      [354.286, 531.429],
      [177.143, 354.286],
      [531.429, 620],
    ]);
  });

  it.each(WELD_WAYS)('lay the same seven segments, once each: %s', (way) => {
    const { scene, settings } = context;
    const segments = weldRuns(seam, way, settings).flatMap((run) => weldSegments(scene, settings, seam, run));
    expect(segments).toHaveLength(7);
    const places = segments.map(({ at }) => Math.hypot(...at.map((x, i) => x - seam.from[i]!)));
    const sorted = [...places].sort((p, q) => p - q);
    sorted.forEach((place, i) => expect(place).toBeCloseTo((620 * (i + 0.5)) / 7, 1));
    for (const segment of segments) expect(segment.length).toBeCloseTo(620 / 7, 1);
    if (way === 'backwards') expect(places).toEqual([...sorted].reverse());
  });
});

describe('welding', () => {
  it('goes on from a copy without changing where it was copied', () => {
    const stages = replayedStages(context)!;
    const start = new Welding(context.scene, context.settings, tackedUp(context, stages));
    const before = weldAccount(context.scene, start.run, [0, 1]);
    const after = start.copy();
    after.lay(seam, { from: 0, to: LENGTH });
    expect(weldAccount(context.scene, start.run, [0, 1])).toEqual(before);
    expect(weldAccount(context.scene, after.run, [0, 1])).not.toEqual(before);
  });

  it('is told as seen from the first part, in the frame of the weldment, with the clamps open', () => {
    const stages = replayedStages(context)!;
    const { moved, measure, features } = weldAccount(context.scene, tackedUp(context, stages), [0, 1]);
    expect([measure, features]).toEqual(['corner-movement', []]);
    expect(moved.map(({ part }) => part)).toEqual(['plate']);
    // Tacked on one side only, it leans to that side: about x of the weldment.
    const [x, y, z] = moved[0]!.turn.map(Math.abs) as [number, number, number];
    expect(x).toBeGreaterThan(5 * Math.max(y, z));
  });
});
