import { describe, expect, it } from 'vitest';
import { issueLine } from '../../src/model/issue.js';
import { readInputs } from '../../src/session/inputs.js';
import { sourcesOf, story } from '../support/planned.js';

const SOURCES = sourcesOf(story('one-tool-change'));
const ABSTRACT = `weldment: three
units: mm kg N s deg
parts:
  a: { ways: [{ gripper: wide }] }
  b: { ways: [{ gripper: small }] }
  c: {}
`;

const linesOf = (
  wishes: string,
  where: 'weldment' | 'settings',
  weldment = SOURCES.weldment.text,
): string[] => {
  const own = where === 'weldment' ? `${weldment}\nwishes: [${wishes}]\n` : weldment;
  const { issues } = readInputs({
    weldment: { text: own, name: 'w.yaml' },
    cell: SOURCES.cell,
    settings: { text: where === 'settings' ? `wishes: [${wishes}]\n` : '', name: 's.yaml' },
  });
  return issues.filter(({ severity }) => severity === 'error').map(issueLine);
};

describe('wishes in files', () => {
  it.each([
    ['{ before: [basis, mid] }', 'wishes[0].before[0]: no part is named "basis"; maybe `base`'],
    ['{ first: nobody }', 'wishes[0].first: no part is named "nobody"; write one of'],
    ['{ grip: mid, gripper: wyde }', 'wishes[0].gripper: no gripper is named "wyde"; maybe `wide`'],
    [
      '{ grip: mid, robot: welder }',
      'wishes[0].robot: no handling robot is named "welder"; write one of handler',
    ],
    ['{ grip: mid, face: +q }', 'wishes[0].face: the part has no flat face "+q"; maybe'],
    [
      '{ grip: mid, group: inner }',
      'wishes[0].group: no group of pads is named "inner"; leave it out: there is none',
    ],
    [
      '{ grip: mid }',
      'wishes[0]: the wish says nothing of the grip; add gripper, face, position, turn, group or robot',
    ],
    ['{ grip: mid, position: [0, 0] }', 'wishes[0].position: a position is wished on no face'],
    ['{ tack: [mid, north], near: [0, 0, 0] }', 'wishes[0].tack: no joint is between "mid" and "north"'],
    ['{ befor: [base, mid] }', 'wishes[0].befor: unknown key `befor`; maybe `before`'],
    [
      '{ tack: [base, mid], near: [0, 0, 10], nevr: true }',
      'wishes[0].nevr: unknown key `nevr`; maybe `never`',
    ],
  ])('%s is told in one line, in the weldment file and in the settings', (wish, line) => {
    for (const where of ['weldment', 'settings'] as const) {
      const lines = linesOf(wish, where);
      expect(lines.filter((one) => one.includes(line))).toHaveLength(1);
      expect(lines.every((one) => one.startsWith(where === 'weldment' ? 'w.yaml:' : 's.yaml:1'))).toBe(true);
    }
  });

  it.each([
    ['{ held: a }', 'wishes[0].held: `held` is wished of parts without shapes'],
    ['{ grip: a, face: +z }', 'wishes[0].face: `face` is wished of parts without shapes'],
    ['{ tack: [a, b], near: [0, 0, 0] }', 'wishes[0].tack: `tack` is wished of parts without shapes'],
    ['{ grip: a, gripper: wyde }', 'wishes[0].gripper: no gripper is named "wyde"; maybe `wide`'],
  ])('%s does not fit parts without shapes', (wish, line) => {
    for (const where of ['weldment', 'settings'] as const)
      expect(linesOf(wish, where, ABSTRACT)).toEqual([expect.stringContaining(line)]);
  });

  it('that contradict each other are no bad input', () => {
    const both = '{ before: [mid, north] }, { before: [north, mid] }, { first: mid }, { first: north }';
    expect(linesOf(both, 'weldment')).toEqual([]);
  });
});
