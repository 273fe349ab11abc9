import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { toDegrees } from '../../src/kinematics/arm.js';
import { filesBesideCell, readCell } from '../../src/io/read-cell.js';
import { told } from './told.js';

const read = (path: string): string =>
  readFileSync(new URL(`../stories/arm-by-urdf/${path}`, import.meta.url), 'utf8');
const CELL = read('cell.yaml');
const URDF = read('story-arm.urdf');

/** The cell with another arm for the handling robot; the welding robot has one by its lengths. */
function cellWith(arm: object, home = [0, -35, 25, 0, 100, 0]): string {
  const cell = parse(CELL) as { robots: Record<string, { arm: object; home: number[] }> };
  cell.robots['welder']!.arm = LENGTHS;
  cell.robots['handler']!.arm = arm;
  cell.robots['handler']!.home = home;
  return stringify(cell, { aliasDuplicateObjects: false });
}

const ACCELERATIONS = [450, 420, 450, 900, 900, 1200];
const LENGTHS = {
  ...{ a1: 260, a2: -35, c1: 620, c2: 800, c3: 840, c4: 120 },
  offsets: [0, 0, -90, 0, 0, 0],
  limits: [
    [-175, 175],
    [-100, 110],
    [-130, 80],
    [-200, 200],
    [-125, 125],
    [-355, 355],
  ],
  speeds: [150, 140, 150, 260, 260, 360],
  accelerations: ACCELERATIONS,
};
const ARM = { urdf: 'story-arm.urdf', accelerations: ACCELERATIONS };

const reading = (urdf: string, arm: object = ARM, home?: number[]) =>
  readCell(cellWith(arm, home), 'c', { 'story-arm.urdf': urdf });
/** The one issue, without its place. */
const issue = (urdf: string, arm?: object): string => {
  const lines = told(reading(urdf, arm));
  expect(lines).toHaveLength(1);
  return lines[0]!.replace(/^c:\d+: robots\.handler\.arm\.urdf: "story-arm\.urdf": /, '');
};
const without = (pattern: string | RegExp, to = ''): string => {
  const changed = URDF.replace(pattern, to);
  expect(changed).not.toBe(URDF);
  return changed;
};

describe('an arm by a URDF file', () => {
  it('is the arm of its lengths, with limits and speeds of the file', () => {
    const { value, issues } = reading(URDF);
    expect(issues).toEqual([]);
    expect(value!.handlers[0]!.arm).toEqual(value!.welders[0]!.arm);
  });

  it('may have limits and speeds of its own, from links that are named', () => {
    const limits = LENGTHS.limits.map(([low, high]) => [low! / 2 - 60, high! / 2 + 60]);
    const named = { ...ARM, base: 'base_link', tip: 'flange', limits, speeds: [1, 2, 3, 4, 5, 6] };
    const { arm } = reading(URDF, named).value!.handlers[0]!;
    expect(toDegrees(arm.limits[5][1])).toBeCloseTo(237.5, 9);
    expect(toDegrees(arm.speeds[2])).toBeCloseTo(3, 9);
  });

  it('is part of the digest of the cell by its content', () => {
    const plain = reading(URDF).digest;
    expect(reading(`${URDF}\n`).digest).not.toBe(plain);
    expect(reading(URDF).digest).toBe(plain);
  });

  it('is named to whoever reads the files, once, and only by a plain path', () => {
    expect(filesBesideCell(CELL)).toEqual(['story-arm.urdf']);
    expect(filesBesideCell(cellWith({ ...ARM, urdf: '../story-arm.urdf' }))).toEqual([]);
    expect(filesBesideCell('[')).toEqual([]);
  });
});

describe('bad paths', () => {
  it.each([
    '../a.urdf',
    '/etc/a.urdf',
    'x/../../a.urdf',
    './a.urdf',
    'c:\\a.urdf',
    'http://a/b.urdf',
    'a//b',
    'a\nb',
  ])('refuses %j', (urdf) => {
    const lines = told(reading(URDF, { ...ARM, urdf }));
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(
      /robots\.handler\.arm\.urdf: got ".*"; must be a plain path below the folder of this file, with `\/` and without `\.\.`$/,
    );
  });

  it('takes one in a folder below', () => {
    expect(filesBesideCell(cellWith({ ...ARM, urdf: 'arms/big..one.urdf' }))).toEqual(['arms/big..one.urdf']);
  });
});

describe('bad arms', () => {
  it('are told by the keys of the kind that is meant', () => {
    const lines = told(reading(URDF, { urdf: 'story-arm.urdf', acelerations: ACCELERATIONS }));
    expect(lines.map((line) => line.replace(/^c:\d+: /, ''))).toEqual([
      'robots.handler.arm.accelerations: is missing; add it, a list of 6 (degrees/s2; URDF has none)',
      'robots.handler.arm.acelerations: unknown key `acelerations`; maybe `accelerations`',
    ]);
  });

  it('text that was not handed in', () => {
    expect(told(readCell(cellWith(ARM), 'c'))).toEqual([
      expect.stringMatching(
        /"story-arm\.urdf": its text was not handed in; hand it in `beside` the cell file$/,
      ),
    ]);
  });

  it('a waiting place outside the limits of the file', () => {
    expect(told(reading(URDF, ARM, [0, -35, 25, 0, 130, 0])).join()).toMatch(
      /home\[4\]: joint 5 at 130 deg is outside its limits; give -125 to 125 deg$/,
    );
  });
});

describe('bad URDF files', () => {
  const XML = 'give a URDF file (XML 1.0, root `robot`)';
  it.each([
    ['an empty file', '', `cannot be read: "missing root element"; ${XML}`],
    ['another kind of file', '<sdf/>', `the root is "sdf"; ${XML}`],
    [
      'a broken tag',
      '<robot>\n<link></robot>',
      `line 2: cannot be read: "Opening and ending tag mismatch: "link" != "robot""; ${XML}`,
    ],
    ['an entity', '<robot>&x;</robot>', `line 1: cannot be read: "entity not found:&x;"; ${XML}`],
    [
      'a document type',
      '<!DOCTYPE robot [\n<!ENTITY a "b">]><robot/>',
      'line 1: has a document type or an entity; remove it; neither is read',
    ],
    [
      'no joint at all',
      '<robot><link name="a"/></robot>',
      'has a chain of 0 turning joints from "a"; six are needed; name a `tip` link',
    ],
    ['no link at all', '<robot/>', 'has no link that hangs on no other; break the ring of joints'],
    [
      'a number that is none',
      without('0.26 0 0.32', '0.26 0 up'),
      'line 23: xyz is "0.26 0 up"; give three numbers',
    ],
    [
      'an axis of nothing',
      without('xyz="0 1 0"', 'xyz="0 0 0"'),
      'line 24: the axis is the zero vector; give a direction',
    ],
    [
      'a link that is not there',
      without('<link name="hand"/>'),
      'joint "wrist_roll" names a link "hand" that is not there; add the link',
    ],
    [
      'a name given twice',
      without('<link name="hand"/>', '<link name="wrist"/>'),
      'the name "wrist" is given twice; give each its own',
    ],
    [
      'a sliding joint',
      without('name="elbow" type="revolute"', 'name="elbow" type="prismatic"'),
      'has a chain of 5 turning joints from "base_link"; six are needed; name a `tip` link',
    ],
    [
      'a joint without end',
      without('name="wrist_roll" type="revolute"', 'name="wrist_roll" type="continuous"'),
      'joint "wrist_roll" turns without end; give `limits`, degrees, beside `urdf`',
    ],
    [
      'a joint without limits',
      without(/<limit [^>]*>/),
      'joint "column" has no range between its limits; give `limits`, degrees, beside `urdf`',
    ],
    [
      'a joint without speed',
      without(/ velocity="[^"]*"/),
      'joint "column" has no velocity; give `speeds`, degrees/s, beside `urdf`',
    ],
    [
      'a joint that follows another',
      without('<axis xyz="0 0 1"/>', '<axis xyz="0 0 1"/><mimic joint="x"/>'),
      'joint "column" follows another (mimic); six joints of their own are needed',
    ],
    [
      'macros',
      '<robot xmlns:xacro="x"><xacro:include/></robot>',
      'has the macro "xacro:include"; expand the macros first',
    ],
  ])('%s', (_, urdf, words) => {
    expect(issue(urdf)).toBe(words);
  });

  it.each([
    ['hand', 'hand', 'has 0 turning joints between base and tip; six are needed; name other links'],
    ['nobody', 'flange', 'has no link "nobody"; its links are base_link, column, upper_arm'],
    [
      'flange',
      'base_link',
      '"base_link" does not hang on "flange"; name as `base` and `tip` two links of one chain',
    ],
    ['column', 'flange', 'has 5 turning joints between base and tip; six are needed; name other links'],
    [
      'base_link',
      'mounting_plate',
      'the z axis of the tip link stands at 90 deg to axis 6; name as `tip` a link on axis 6',
    ],
  ])('base %s and tip %s', (base, tip, words) => {
    expect(issue(URDF, { ...ARM, base, tip })).toContain(words);
  });

  it('two tips, two roots, a ring', () => {
    const two = without(
      '</robot>',
      '<link name="x"/><joint name="y" type="fixed"><parent link="hand"/><child link="x"/></joint></robot>',
    );
    expect(issue(two)).toBe('has 2 links at the end of six turning joints; name one as `tip`: flange, x');
    expect(issue(without('</robot>', '<link name="x"/></robot>'))).toBe(
      'has 2 links that hang on no other; name one as `base`: base_link, x',
    );
    const ring = without(
      '</robot>',
      '<joint name="y" type="fixed"><parent link="flange"/><child link="base_link"/></joint></robot>',
    );
    expect(issue(ring)).toBe('has no link that hangs on no other; break the ring of joints');
    expect(told(reading(ring, { ...ARM, base: 'base_link', tip: 'flange' }))).toEqual([]);
  });

  it('more than is read, or nested very deep', () => {
    expect(issue(`<robot>${'<link name="a"/>'.repeat(1001)}</robot>`)).toBe(
      'has 1001 links; at most 1000 are read',
    );
    expect(issue(`<robot>${' '.repeat(2_000_001)}</robot>`)).toMatch(
      /^has 2000016 characters; at most 2000000/,
    );
    expect(issue(`<robot>${'<a>'.repeat(20_000)}${'</a>'.repeat(20_000)}</robot>`)).toMatch(/^has no link/);
  });
});
