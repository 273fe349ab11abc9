import { describe, expect, it } from 'vitest';
import { signalTable, tackTable } from '../../src/report/work-text.js';
import { smallPlan } from './small-plan.js';

describe('signals and tacks as text', () => {
  it('names every signal with who sends and who awaits it, control characters made visible', () => {
    const handshake = {
      id: 'H1',
      ...{ name: 'wall-held', kind: 'four-phase' as const, line: 2, waiting: 'torch-away' as const },
      from: { robot: 'arm\u001b[2J', step: 7 },
      to: { robot: 'welder', step: 3 },
      meaning: 'wall held and still',
      guards: '',
      timeLimit: 60,
      reaction: '',
    };
    const lines = signalTable({ handshakes: [handshake] });
    expect(lines.slice(0, 3)).toEqual([
      '',
      'Signals:',
      expect.stringMatching(/^signal +sent by +awaited by +says$/),
    ]);
    expect(lines[3]).toMatch(
      /^H1 wall-held, line 2 +arm.* in step 7 +welder in step 3 +wall held and still$/,
    );
    expect(lines.join('')).not.toContain('\u001b');
  });

  it('lists tacks in their order, those laid while the part is held apart from the later ones', () => {
    const [stage] = smallPlan().stages.filter(({ tacks }) => tacks.length > 0);
    const turned = { ...stage!, tacks: [...stage!.tacks].reverse() };
    expect(tackTable({ stages: [turned] })).toEqual(tackTable({ stages: [stage!] }));
    expect(tackTable({ stages: [] })).toEqual([]);
    expect(tackTable({ stages: [stage!] }).join()).not.toContain('welder');
    expect(signalTable({ handshakes: [] })).toEqual([]);
  });

  it('says who lays each tack where several robots do', () => {
    const stage = structuredClone(smallPlan().stages.find(({ tacks }) => tacks.length > 1)!);
    const [first, ...others] = stage.tacks;
    for (const tack of others) tack.robot = 'second';
    const text = tackTable({ stages: [stage] }).join(' ');
    expect(text).toContain(`welder: ${first!.seam} `);
    expect(text).toContain(`second: ${others[0]!.seam} `);
  });
});
