import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { readCell } from '../../src/io/read-cell.js';
import { told } from './told.js';

const TEXT = readFileSync(new URL('../../examples/cells/twin-bench.cell.yaml', import.meta.url), 'utf8');

const BODY = {
  mass: 2,
  reach: 150,
  envelope: { length: 100, width: 60, height: 140 },
  stand: [-650, 700, 700],
};
const MAGNET = { 'pull-per-pad': 600, pads: [[-14, 0], [14, 0]], 'pad-diameter': 28, 'rated-thickness': 6 }; // prettier-ignore
const VACUUM = { 'pressure-kpa': 60, cups: [[0, 0]], 'cup-diameter': 50 };
const JAW = { force: 800, stroke: [20, 90], 'pad-diameter': 30, depth: 40 };

/** The example cell with one gripper, `g`, and nothing else in its place. */
function withGripper(own: object): string {
  const cell = parse(TEXT) as Record<string, unknown>;
  return stringify({ ...cell, grippers: { g: { ...own, ...BODY } } }, { aliasDuplicateObjects: false });
}

/** Issues without the line, which depends on how the file is written out. */
const issues = (own: object): readonly string[] =>
  told(readCell(withGripper(own), 'c')).map((line) => line.replace(/^c:\d+: grippers\.g/, 'g'));
const gripper = (own: object) => readCell(withGripper(own), 'c').value!.grippers[0]!;

describe('a gripper', () => {
  it('is a magnet, a vacuum or a jaw, each with its defaults', () => {
    expect(gripper({ magnet: MAGNET })).toMatchObject({
      ...{ kind: 'magnet', magnet: 'electro-permanent', grade: 'N', temperature: 20, residual: 0.05 },
      ...{ gapFactor: 0.75, friction: 0.2, groups: [], releaseSeconds: 0, attractionDistance: 50 },
    });
    expect(gripper({ vacuum: VACUUM })).toMatchObject({
      ...{ kind: 'vacuum', pressure: 60, pads: [[0, 0]], padDiameter: 50, surfaceFactor: 0.8, blowOff: 0 },
    });
    expect(gripper({ jaw: JAW })).toMatchObject({
      ...{
        kind: 'jaw',
        force: 800,
        stroke: [20, 90],
        depth: 40,
        opensBy: undefined,
        openingDrag: expect.closeTo(8, 9),
      },
    });
  });

  it('says what happens when power fails, by its kind unless it says otherwise', () => {
    const loss = (own: object) => gripper(own).powerLoss;
    const gone = { kind: 'exclusion-zone', seconds: 0 };
    expect(loss({ magnet: MAGNET })).toEqual({ kind: 'stored-seconds', seconds: Infinity });
    expect(loss({ magnet: { ...MAGNET, kind: 'electro' } })).toEqual(gone);
    expect(loss({ vacuum: VACUUM })).toEqual(gone);
    expect(loss({ vacuum: { ...VACUUM, 'reserve-seconds': 90 } })).toEqual({
      kind: 'stored-seconds',
      seconds: 90,
    });
    expect(loss({ jaw: JAW })).toEqual(gone);
    expect(loss({ jaw: JAW, 'on-power-loss': 'must-stand' })).toEqual({ kind: 'must-stand', seconds: 0 });
    const stored = { 'on-power-loss': 'stored-seconds', 'stored-seconds': 30 };
    expect(loss({ jaw: JAW, ...stored })).toEqual({ kind: 'stored-seconds', seconds: 30 });
  });

  it('has its groups by name, pads counted from 1 in the file', () => {
    const groups = { right: [2], all: [2, 1] };
    expect(gripper({ magnet: { ...MAGNET, groups } })).toMatchObject({
      groups: [
        { id: 'all', pads: [0, 1] },
        { id: 'right', pads: [1] },
      ],
    });
  });
});

describe('each defect of a gripper is one clear line', () => {
  it('when it has no kind or two', () => {
    expect(issues({})).toEqual([
      expect.stringMatching(/^g: got .*; needs exactly one of magnet, vacuum, jaw$/),
    ]);
    expect(issues({ magnet: MAGNET, jaw: JAW })).toEqual([
      expect.stringMatching(/^g: got .*; needs exactly one of magnet, vacuum, jaw$/),
    ]);
  });

  it('when a pull, friction, pressure, force or mass is not above zero', () => {
    expect(issues({ magnet: { ...MAGNET, 'pull-per-pad': -450 } })).toEqual([
      'g.magnet.pull-per-pad: got -450; give above 0 (rated breakaway pull of one pad, N)',
    ]);
    expect(issues({ magnet: { ...MAGNET, friction: 0 } })).toEqual([
      'g.magnet.friction: got 0; give above 0',
    ]);
    expect(issues({ jaw: { ...JAW, friction: 0 } })[0]).toMatch(/^g\.jaw\.friction: got 0; give above 0/);
    expect(issues({ vacuum: { ...VACUUM, 'pressure-kpa': 0 } })[0]).toMatch(
      /^g\.vacuum\.pressure-kpa: got 0; give above 0/,
    );
    expect(issues({ vacuum: { ...VACUUM, 'pressure-kpa': 250 } })[0]).toMatch(
      /^g\.vacuum\.pressure-kpa: got 250; give at most 100/,
    );
    expect(issues({ jaw: { ...JAW, force: -1 } })[0]).toMatch(/^g\.jaw\.force: got -1; give above 0/);
    const text = withGripper({ jaw: JAW }).replace('    mass: 2\n', '    mass: 0\n');
    expect(told(readCell(text, 'c'))).toEqual([
      expect.stringMatching(/grippers\.g\.mass: got 0; give above 0$/),
    ]);
  });

  it('when a stroke or depth is impossible', () => {
    expect(issues({ jaw: { ...JAW, stroke: [90, 20] } })).toEqual([
      'g.jaw.stroke: got [90, 20]; least must be under most',
    ]);
    expect(issues({ jaw: { ...JAW, depth: 10 } })).toEqual([
      'g.jaw.depth: got 10; must be at least `pad-diameter`, so that the pad has room on the finger',
    ]);
    expect(issues({ jaw: { ...JAW, 'opens-by': 35 } })).toEqual([
      'g.jaw.opens-by: got 35; must be less than half of the way between least and greatest `stroke`, since each finger opens by it',
    ]);
    expect(issues({ jaw: { ...JAW, 'opens-by': 34 } })).toEqual([]);
  });

  it('when two pads are in one place', () => {
    expect(issues({ magnet: { ...MAGNET, 'pad-diameter': 30 } })).toEqual([
      'g.magnet.pads[1]: got [14, 0], 28 mm from pads[0]; keep them at least pad-diameter, 30 mm, apart',
    ]);
    expect(
      issues({
        vacuum: {
          ...VACUUM,
          cups: [
            [0, 0],
            [0, 40],
          ],
        },
      }),
    ).toEqual([
      // prettier-ignore
      'g.vacuum.cups[1]: got [0, 40], 40 mm from cups[0]; keep them at least cup-diameter, 50 mm, apart',
    ]);
  });

  it('when a group names a pad twice', () => {
    expect(issues({ magnet: { ...MAGNET, groups: { left: [1, 1] } } })).toEqual([
      'g.magnet.groups.left: got [1, 1]; must name each pad once',
    ]);
  });

  it('when a group names a pad that is not there', () => {
    expect(issues({ magnet: { ...MAGNET, groups: { left: [1], right: [3] } } })).toEqual([
      'g.magnet.groups.right[0]: there is no pad 3 among 2; give numbers from 1 to 2',
    ]);
  });

  it('when what happens without power is said by halves', () => {
    expect(issues({ jaw: JAW, 'on-power-loss': 'stored-seconds' })).toEqual([
      'g.stored-seconds: is missing; add it, a number (how long the pull is kept, with `on-power-loss: stored-seconds`)',
    ]);
    expect(issues({ jaw: JAW, 'stored-seconds': 4 })).toEqual([
      'g.stored-seconds: got 4; use it with `on-power-loss: stored-seconds` only: add that, or leave this out',
    ]);
    expect(issues({ jaw: JAW, 'on-power-loss': 'explode', 'stored-seconds': 4 })).toEqual([
      expect.stringMatching(/^g\.on-power-loss: got "explode"; use one of/),
    ]);
    expect(issues({ jaw: JAW, 'on-power-loss': 'must-stnad' })).toEqual([
      'g.on-power-loss: got "must-stnad"; maybe `must-stand`: use one of must-stand, stored-seconds, exclusion-zone',
    ]);
  });

  it('when a grade is unknown', () => {
    expect(issues({ magnet: { ...MAGNET, grade: 'X' } })).toEqual([
      expect.stringMatching(/^g\.magnet\.grade: got "X"; .*use one of N, M, H, SH$/),
    ]);
  });
});
