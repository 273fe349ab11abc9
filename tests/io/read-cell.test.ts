import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { axisZ, place } from '../../src/geometry/pose.js';
import { readCell } from '../../src/io/read-cell.js';
import { plainTurn, told } from './told.js';

const TEXT = readFileSync(new URL('../../examples/cells/twin-bench.cell.yaml', import.meta.url), 'utf8');

interface Editable {
  [key: string]: Editable;
}

/** The example cell with one thing changed, as text with one key a line. */
function edited(change: (cell: Editable) => void): string {
  const cell = parse(TEXT) as Editable;
  change(cell);
  return stringify(cell, { aliasDuplicateObjects: false });
}

const issues = (change: (cell: Editable) => void): readonly string[] => told(readCell(edited(change), 'c'));
const value = (change: (cell: Editable) => void) => readCell(edited(change), 'c').value!;
const set = (map: Editable, key: string, to: unknown): void => void Object.assign(map, { [key]: to });

describe('a cell', () => {
  const cell = readCell(TEXT, 'c').value!;

  it('is resolved to radians, poses and defaults', () => {
    expect(told(readCell(TEXT, 'c'))).toEqual([]);
    expect(cell.handlers[0]!.id).toBe('handler');
    expect(cell.handlers[0]!.arm.offsets).toEqual([0, 0, -Math.PI / 2, 0, 0, 0]);
    expect(cell.handlers[0]!.arm.limits[4]![1]).toBeCloseTo((125 * Math.PI) / 180, 12);
    expect(cell.welders[0]!.home[4]).toBeCloseTo((65 * Math.PI) / 180, 12);
    expect(cell.welders[0]!.base.at).toEqual([1250, 0, 0]);
    expect(plainTurn(cell.welders[0]!.base)).toEqual([-1, 0, 0, 0, -1, 0, 0, 0, 1]);
    expect(cell.handlers[0]!.payload).toEqual({ mass: 20, moment: 60000, force: 20 * 9.80665 });
    expect(cell.grippers.map(({ id }) => id)).toEqual(['magnet-small', 'magnet-wide']);
    expect(cell.times.toolChange).toBe(8);
    expect(cell.process.startSeconds).toBe(0.6);
    expect(cell.table.clamp).toEqual({ name: 'table-magnets', force: 1500 });
  });

  it('takes the radii of links as given, others as shares of the arm, and a dress pack where there is one', () => {
    // 0.06, 0.05 and 0.04 of upper arm and forearm together; the example arm is 800 and hypot(-35, 840) long.
    const span = 800 + Math.hypot(35, 840);
    const [given, left] = [{ forearm: 72, 'dress-pack': 55 }, {}].map((links) => {
      const { radii } = value((c) => set(c['robots']!['welder']!, 'links', links)).welders[0]!;
      return radii;
    });
    expect(given).toMatchObject({ forearm: 72, dressPack: 55 });
    expect(left!.dressPack).toBeUndefined();
    expect(left!.forearm).toBeCloseTo(0.05 * span, 9);
    for (const radii of [given!, left!]) {
      expect(radii.column).toBeCloseTo(0.06 * span, 9);
      expect(radii.upperArm).toBeCloseTo(0.06 * span, 9);
      expect(radii.wrist).toBeCloseTo(0.04 * span, 9);
    }
    expect(issues((c) => set(c['robots']!['welder']!, 'links', { 'dress-pack': 0 }))).toHaveLength(1);
  });

  it('puts the wire tip ahead of the flange and to its side, turned about y', () => {
    const { tip } = cell.welders[0]!.torch;
    expect(place(tip, [0, 0, 0])).toEqual([60, 0, 340]);
    const bend = (35 * Math.PI) / 180;
    expect(axisZ(tip.turn)[0]).toBeCloseTo(Math.sin(bend), 12);
    expect(axisZ(tip.turn)[1]).toBeCloseTo(0, 12);
    expect(axisZ(tip.turn)[2]).toBeCloseTo(Math.cos(bend), 12);
  });

  it('puts the weldment at the table centre unless it says where', () => {
    expect(cell.weldmentPose.at).toEqual([0, 0, 500]);
    expect(plainTurn(cell.weldmentPose)).toEqual([0, -1, 0, 1, 0, 0, 0, 0, 1]);
    const moved = value((c) => {
      set(c['stations']!['table']!, 'weldment-at', [10, 20, 500]);
      set(c['stations']!['table']!, 'weldment-turn', 0);
    });
    expect(moved.weldmentPose.at).toEqual([10, 20, 500]);
    expect(plainTurn(moved.weldmentPose)).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
  });

  it('turns stations and keep-outs, and takes a given holding force', () => {
    const turned = value((c) => {
      set(c['stations']!['table']!, 'turn', 90);
      set(c['stations']!['regrip']!, 'turn', 180);
      set(c['robots']!['handler']!['payload']!, 'force', 300);
      set(c, 'keep-outs', [{ at: [1, 2, 3], size: [4, 5, 6], turn: 90 }]);
    });
    const quarter = [0, -1, 0, 1, 0, 0, 0, 0, 1];
    expect(plainTurn(turned.table.pose)).toEqual(quarter);
    expect(plainTurn(turned.regrip.pose)).toEqual([-1, 0, 0, 0, -1, 0, 0, 0, 1]);
    expect(turned.handlers[0]!.payload.force).toBe(300);
    const [keepOut] = turned.keepOuts;
    expect(keepOut).toMatchObject({ pose: { at: [1, 2, 3] }, size: [4, 5, 6] });
    expect(plainTurn(keepOut!.pose)).toEqual(quarter);
  });
});

describe('a table that turns', () => {
  const turning = { angles: [180, 0, 90], speed: 45, acceleration: 90 };
  const tableOf =
    (turntable: unknown, more: (c: Editable) => void = () => undefined) =>
    (c: Editable) => {
      set(c['stations']!['table']!, 'turntable', turntable);
      set(c['stations']!['table']!, 'size', [800, 600]);
      more(c);
    };

  it('has its axis in the table centre and is turned by the welding robot unless it says otherwise', () => {
    expect(readCell(TEXT, 'c').value!.table.turntable).toBeUndefined();
    const common = { angles: [0, 90, 180], speed: 45, acceleration: 90, settle: 1 };
    expect(value(tableOf(turning)).table.turntable).toEqual({ ...common, axis: [0, 0], commander: 'welder' });
    const given = { ...turning, at: [100, -50], settle: 2, 'commanded-by': 'handler' };
    expect(value(tableOf(given)).table.turntable).toEqual({
      ...{ ...common, settle: 2, axis: [100, -50], commander: 'handler' },
    });
  });

  it('is refused with the reason when it cannot be', () => {
    const lines = (turntable: unknown, more?: (c: Editable) => void): readonly string[] =>
      issues(tableOf(turntable, more)).map((line) => line.replace(/^c:\d+: stations\.table\.turntable/, ''));
    expect(lines({ ...turning, angles: [90, -270] })).toEqual([
      '.angles: got [90, -270], without 0; add 0, the angle at which the file describes table and weldment',
      '.angles[1]: got -270, where the table stands as at 90; strike one of them',
    ]);
    expect(lines({ ...turning, at: [0, 310] })).toEqual([
      '.at: got [0, 310], 10 mm off the table; give a point of the table in the cell, or leave it out for the table centre',
    ]);
    const quarter = (c: Editable): void => set(c['stations']!['table']!, 'turn', 90);
    expect(lines({ ...turning, at: [0, 310] }, quarter)).toEqual([]);
    expect(lines({ ...turning, 'commanded-by': 'weldr' })).toEqual([
      '.commanded-by: no robot is named "weldr"; maybe `welder`',
    ]);
    expect(lines({ ...turning, speed: 0, tilt: 45 }).map((line) => line.replace(/ \(.*\)$/, ''))).toEqual([
      '.speed: got 0; give above 0',
      '.tilt: unknown key `tilt`; known here: angles, at, speed, acceleration, settle, commanded-by',
    ]);
  });
});

describe('each defect of a cell has its line, its value and its remedy', () => {
  it('when no robot handles, or none welds', () => {
    expect(issues((c) => set(c['robots']!, 'second', c['robots']!['handler']))).toEqual([]);
    expect(issues((c) => set(c['robots']!, 'second', c['robots']!['welder']))).toEqual([]);
    expect(issues((c) => delete c['robots']!['welder'])).toEqual([
      'c:3: robots: got no welding robot among handler; give one robot `duty: weld`',
    ]);
    expect(issues((c) => set(c, 'robots', {}))).toEqual([
      'c:3: robots: got no handling robot; give one robot `duty: handle`',
      'c:3: robots: got no welding robot; give one robot `duty: weld`',
    ]);
  });

  it('when a duty is unknown or missing', () => {
    expect(issues((c) => set(c['robots']!['welder']!, 'duty', 'wield'))).toEqual([
      'c:3: robots: got no welding robot among handler, welder; give one robot `duty: weld`',
      expect.stringMatching(
        /^c:\d+: robots\.welder\.duty: got "wield"; maybe `weld`: use one of handle, weld$/,
      ),
    ]);
    expect(issues((c) => set(c['robots']!, 'third', 5))).toEqual([
      expect.stringMatching(/^c:\d+: robots\.third: got 5; give a map with duty$/),
    ]);
  });

  it('when a torch is not there, or no gripper', () => {
    expect(issues((c) => set(c['robots']!['welder']!, 'torch', 'bent-touch'))).toEqual([
      expect.stringMatching(
        /^c:\d+: robots\.welder\.torch: no torch is named "bent-touch"; maybe `bent-torch`$/,
      ),
    ]);
    expect(issues((c) => set(c, 'torches', {}))).toEqual([
      expect.stringMatching(
        /^c:\d+: robots\.welder\.torch: no torch is named "bent-torch"; describe it under `torches`$/,
      ),
    ]);
    expect(issues((c) => set(c, 'grippers', {}))).toEqual([
      expect.stringMatching(/^c:\d+: grippers: got no grippers; give at least one$/),
    ]);
  });

  it('when a waiting place is outside the joint limits', () => {
    const text = TEXT.replace('home: [0, -35, 25, 0, 100, 0]', 'home: [0, -35, 25, 0, 130, -356]');
    const line = text.split('\n').findIndex((l) => l.includes('130, -356')) + 1;
    expect(told(readCell(text, 'c'))).toEqual([
      `c:${line}: robots.handler.home[4]: joint 5 at 130 deg is outside its limits; give -125 to 125 deg`,
      `c:${line}: robots.handler.home[5]: joint 6 at -356 deg is outside its limits; give -355 to 355 deg`,
    ]);
  });

  it('when the posture in which a nozzle is cleaned is outside the joint limits', () => {
    const cleaning = (joints: readonly unknown[]) =>
      issues((c) => set(c['robots']!['welder']!, 'cleaning', { joints })).map((line) =>
        line.replace(/^c:\d+: robots\.welder\./, ''),
      );
    expect(cleaning([0, -45, 25, 0, 65, 0])).toEqual([]);
    expect(cleaning([0, -45, 25, 0, 65, 400])).toEqual([
      'cleaning.joints[5]: joint 6 at 400 deg is outside its limits; give -355 to 355 deg',
    ]);
  });

  it('when an elbow is not that of a coupled arm, spans more than a turn, or is past its range at the waiting place', () => {
    const arm = (coupled: boolean, elbow: readonly number[]) =>
      issues((c) => {
        // The waiting place has joints 2 and 3 at -35 and 25, offset 3 is -90: the elbow at 25 + 90 + 35.
        const handler = c['robots']!['handler']!;
        set(handler, 'arm', { ...handler['arm'], coupled, elbow });
      }).map((line) => line.replace(/^c:\d+: robots\.handler\./, ''));
    expect(arm(true, [-40, 150])).toEqual([]);
    expect(arm(true, [-220, -200])).toEqual([]);
    expect(arm(true, [-40, 140])).toEqual([
      'home: the elbow at 150 deg is outside its limits; give joints 2 and 3 with which it is at -40 to 140 deg',
    ]);
    expect(arm(true, [-200, 161]).join()).toContain('must span one turn at most');
    expect(arm(false, [-40, 170]).join()).toContain('must be left out unless the arm is `coupled`');
  });

  it('when an arm is described wrongly', () => {
    const text = `cell: c
units: mm kg N s deg
robots:
  arm:
    duty: weld
    arm:
      signs: [1, 2, 1]
      limits: [[3, 1]]
      speeds: [1, 1, 1, 1, 1, 0]
`;
    const arm = told(readCell(text, 'c')).filter((line) =>
      /robots\.arm\.arm\.(signs|limits|speeds|a1)/.test(line),
    );
    expect(arm).toEqual([
      'c:6: robots.arm.arm.a1: is missing; add it, a number',
      'c:7: robots.arm.arm.signs: got [1, 2, 1], 3 entries; give exactly 6',
      'c:7: robots.arm.arm.signs[1]: got 2; use one of 1, -1',
      'c:8: robots.arm.arm.limits: got [[…]], 1 entry; give exactly 6 (degrees)',
      'c:9: robots.arm.arm.speeds[5]: got 0; give above 0',
    ]);
  });

  it('when a torch or the welding positions cannot be', () => {
    const torch = (to: object): readonly string[] =>
      issues((c) => Object.assign(c['torches']!['bent-torch']!, to)).map((line) =>
        line.replace(/^c:\d+: /, ''),
      );
    expect(torch({ 'nozzle-length': 60, 'body-front-radius': 20 })).toEqual([]);
    const at = 'torches.bent-torch.';
    expect(torch({ 'body-radius': 5 })).toEqual([`${at}body-radius: got 5; must be at least nozzle-radius`]);
    expect(torch({ 'body-front-radius': 12 })).toEqual([
      `${at}body-front-radius: got 12; needs \`nozzle-length\``,
    ]);
    expect(torch({ 'nozzle-length': 125 })).toEqual([
      `${at}body-length: got 140; must be more than \`stick-out\` and \`nozzle-length\` together`,
    ]);
    const positions = (to: object): readonly string[] =>
      issues((c) => Object.assign(c['process']!, { positions: to })).map((line) =>
        line.replace(/^c:\d+: /, ''),
      );
    expect(positions({ PA: {}, PF: { speed: 5, current: 150 } })).toEqual([]);
    expect(positions({})).toEqual(['process.positions: got an empty map; must allow at least one position']);
    expect(positions({ PA: {}, PX: {} })).toEqual(['process.positions.PX: unknown key `PX`; maybe `PB`']);
  });

  it('resolves a torch of one cone, or of a nozzle and a body', () => {
    const torchOf = (to: object) =>
      value((c) => Object.assign(c['torches']!['bent-torch']!, to)).welders[0]!.torch;
    expect(torchOf({})).toMatchObject({ nozzleLength: 0, bodyFrontRadius: 10, bodyRadius: 25 });
    expect(torchOf({ 'nozzle-length': 60 })).toMatchObject({ nozzleLength: 60, bodyFrontRadius: 25 });
    const given = torchOf({ 'nozzle-length': 60, 'body-front-radius': 18 });
    expect(given).toMatchObject({ nozzleLength: 60, bodyFrontRadius: 18 });
  });

  it('when accuracy, seating, seam search, inertia or a two-sided stand cannot be', () => {
    const lines = issues((c) => {
      set(c['robots']!['handler']!, 'accuracy', -1);
      set(c['robots']!['handler']!['payload']!, 'inertia', [1, 2]);
      set(c['robots']!['handler']!, 'seating', { force: 0, travel: -3 });
      set(c['robots']!['welder']!, 'seam-search', { accuracy: -1, touches: 3 });
      set(c['stations']!['infeed']!, 'turn-accuracy', -1);
      set(c['stations']!, 'two-sided', { at: [0, 0, 0], size: [300, 300], opening: [200, 300] });
      set(c['stations']!['table']!['first-part']!, 'force', -1);
    });
    expect(lines.map((line) => line.replace(/^c:\d+: /, '').replace(/ \(.*\)$/, ''))).toEqual([
      'robots.handler.payload.inertia: got [1, 2], 2 entries; give exactly 3',
      'robots.handler.accuracy: got -1; give at least 0',
      'robots.handler.seating.force: got 0; give above 0',
      'robots.handler.seating.travel: got -3; give above 0',
      'robots.welder.seam-search.accuracy: got -1; give at least 0',
      'robots.welder.seam-search.touches: unknown key `touches`; known here: accuracy, seconds',
      'stations.infeed.turn-accuracy: got -1; give at least 0',
      'stations.table.first-part.force: got -1; give at least 0',
      'stations.two-sided.opening: got [200, 300]; must be at most `size` along x and less along y',
    ]);
  });
});
