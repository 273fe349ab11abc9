import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { Facts } from '../../src/facts/facts.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { inspectCellText } from '../../src/report/inspect-cell-text.js';
import { blockedText, inspectText, shapeText } from '../../src/report/inspect-text.js';
import type { CellView, Inspection } from '../../src/report/inspection.js';
import { columns } from '../../src/report/plain.js';
import { inspect } from '../../src/session/inspect.js';
import { testCell } from '../support/cell.js';
import { standWeldment } from '../support/stand-weldment.js';

const STAND = [
  'stand: 3 parts of 11.35 kg, 3 contacts, 3 joints (3 given, 0 proposed), 4 seams',
  '',
  'Parts (weldment frame, mm):',
  '  part  shape                 mass, kg       centre of mass  material',
  '  base  plate 320 x 320 x 10  8.038 derived  0, 0, 5         S235',
  '  wall  plate 300 x 120 x 8   2.261 derived  0, 0, 70        S235',
  '  rib   plate 140 x 120 x 8   1.055 derived  0, 74, 70       S235',
  '',
  'Contacts:',
  '  between     patches  area, mm2  gap, mm  bearing',
  '  base, wall        1      2,400        0  bears on 1 patch',
  '  base, rib         1      1,120        0  bears on 1 patch',
  '  wall, rib         1        960        0  bears on 1 patch',
  '',
  'Joints:',
  '  joint  between     type    leg  origin  seams: length in mm, open side',
  '  J1     base, wall  fillet    4  given   300 to -y and above; 300 to +y and above',
  '  J2     base, rib   fillet    4  given   140 to -x and above',
  '  J3     wall, rib   fillet    4  given   120 to -x and +y',
  '',
  'Approaches:',
  '  part  comes from    blocked',
  '  base  above         by wall or rib',
  '  wall  above         by nothing',
  '        -y and above  by nothing',
  '        -y            by nothing',
  '  rib   above         by nothing',
  '        +y and above  by nothing',
  '        +y            by nothing',
];

const linesOf = (text: string): string[] => text.replace(/\n$/, '').split('\n');

let bare: Inspection;

beforeAll(async () => {
  const scene = buildScene(standWeldment(), testCell(), DEFAULT_SETTINGS);
  bare = inspect(new Facts(scene, DEFAULT_SETTINGS, await loadLinearPrograms()), false);
});

const slips = {
  code: 'grip-slips',
  subjects: ['lid', 'wide', '+x'],
  value: 1.1,
  limit: 1.2,
  unit: 'reserve',
};
const heavy = { code: 'payload', subjects: ['lid', 'handler'], value: 20, limit: 16, unit: 'kg' };
const blocked = { code: 'torch-blocked', subjects: ['J1', 'J1.1', 'lid'] };
const bent = {
  code: 'joint-5-limit',
  subjects: ['J1', 'J1.1', 'welder'],
  value: 126,
  limit: 125,
  unit: 'deg',
};

const CELL: CellView = {
  name: 'bench',
  parts: [
    {
      id: 'lid',
      rests: [
        { face: '-z', height: 4, margin: 40, refusal: undefined },
        { face: '+x', height: 90, margin: 4, refusal: { code: 'rest-tips', subjects: ['lid', '+x'] } },
        { face: '+z', height: 4, margin: 40, refusal: undefined },
      ],
      infeed: '-z',
      grips: { considered: 1200, usable: 1199, refused: [{ code: 'payload', count: 1, nearest: heavy }] },
      lifting: {
        gripper: 'wide',
        face: '+z',
        pull: 225.4,
        thicknessShare: 0.2,
        thickness: { part: 2, rated: 10 },
        factor: 12.34,
        asked: { factor: 3, of: 'permanent magnets' },
      },
      takes: { considered: 1199, usable: 1197, refused: [{ code: 'grip-slips', count: 2, nearest: slips }] },
      places: { considered: 0, usable: 0, refused: [] },
    },
  ],
  seams: [
    {
      id: 'J1.1',
      between: ['lid', 'wall'],
      open: [0, Math.SQRT1_2, Math.SQRT1_2],
      alone: {
        ...{ sites: 9, clear: 8, reached: 7, stretches: [[10, 88.5]] },
        against: [
          { code: 'torch-blocked', count: 1, nearest: blocked },
          { code: 'joint-5-limit', count: 1, nearest: bent },
        ],
      },
      byRobot: [],
      beside: {
        ...{ sites: 9, clear: 0, reached: 0, stretches: [] },
        against: [
          {
            code: 'torch-blocked',
            count: 9,
            nearest: { ...blocked, subjects: ['J1', 'J1.1', 'rib', 'the table'] },
          },
        ],
      },
    },
  ],
};

describe('inspectText', () => {
  it('tells all that a weldment implies', () => {
    expect(linesOf(inspectText(bare))).toEqual(STAND);
  });

  it('tells what a cell makes of it, each refusal with its number', () => {
    expect(inspectCellText(CELL)).toEqual([
      '',
      'Handling in bench (each part alone, nothing else in place):',
      '  lid: rests on -z and +z, lies on -z at the infeed',
      '      grips: 1,199 of 1,200 fit; at the infeed 1,197 of 1,199; in place, by approach, 0 of 0',
      '      fit: 1: payload; nearest (handler): gripper and part 20 kg, limit 16 kg',
      '      lifting benchmark (crane attachments, not robots): wide on +z pulls 225.4 N (2 mm of steel under magnets',
      '                                                         rated for 10 mm leave 20 %), 12.3 times the weight; 3',
      '                                                         is asked of permanent magnets',
      '      infeed: 2: grip does not carry the weight; nearest (wide, +x): reserve 1.1, limit 1.2',
      '',
      'Tack sites (with only the two parts of the seam in place; with all parts where that differs):',
      '  seam  between                  open side     sites reached          against the others',
      '  J1.1  lid, wall                +y and above  7 of 9: 10 to 88.5 mm  1: torch meets lid; 1: joint 5 beyond',
      '                                                                      its limit: angle 126 deg, limit 125 deg',
      '        with all parts in place                none of 9              9: torch meets rib and the table',
    ]);
  });

  it('names the cell when there is one', () => {
    expect(linesOf(inspectText({ ...bare, cell: CELL }))[0]).toMatch(
      /^stand on bench: 3 parts of 11\.35 kg, /,
    );
  });

  it('marks joints that cannot be had', () => {
    const jointMisses = [
      { joint: 'J1', between: ['base', 'wall'], why: 'no-contact' },
      { joint: 'J2', between: ['base', 'rib'], why: 'no-seam' },
    ] as const;
    const lines = linesOf(inspectText({ ...bare, jointMisses }));
    expect(lines).toContain('  ! J1, base, wall: the parts do not meet');
    expect(lines).toContain('  ! J2, base, rib: the contact offers no seam of this type and side');
  });

  it('keeps names from writing on the terminal and the width', () => {
    const id = `\u001b[31m${'very long '.repeat(7)}`;
    const parts = bare.parts.map((part) => ({
      ...part,
      id,
      approaches: [{ ...part.approaches[0]!, hits: [id, id] }],
    }));
    const contacts = bare.contacts.map((contact) => ({ ...contact, between: [id, id] as const }));
    const joints = bare.joints.map((joint) => ({ ...joint, between: [id, id] as const }));
    const cell = { ...CELL, name: id, parts: CELL.parts.map((part) => ({ ...part, id: 'lid\u0007' })) };
    const text = inspectText({ ...bare, weldment: '\u202elid', parts, contacts, joints, cell });
    // eslint-disable-next-line no-control-regex
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
    const [, ...rest] = linesOf(text);
    for (const line of rest.filter((own) => !own.startsWith('Handling')))
      expect(columns(line)).toBeLessThanOrEqual(110);
  });
});

describe('the words of an inspection', () => {
  it('name shapes with their sizes', () => {
    expect(shapeText({ kind: 'plate', length: 1320, width: 220.5, height: 10 })).toBe(
      'plate 1,320 x 220.5 x 10',
    );
    expect(
      shapeText({ kind: 'rectangular-hollow-section', length: 320, width: 40, height: 80, wall: 4 }),
    ).toBe('hollow 320 x 40 x 80 wall 4');
  });

  it('say what is in the way', () => {
    const way = { direction: [0, 0, -1], hits: [], squeezes: [], fixed: null } as const;
    expect(blockedText(way)).toBe('by nothing');
    expect(blockedText({ ...way, hits: ['a', 'b', 'c'], fixed: 'table' })).toBe(
      'always, by the table; by a, b or c',
    );
    expect(blockedText({ ...way, squeezes: [['a', 'b']] })).toBe(
      'between a and b (too little room to slide in)',
    );
  });
});
