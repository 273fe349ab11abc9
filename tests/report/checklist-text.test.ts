import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { CAUTIONS } from '../../src/planning/document.js';
import { checklistText } from '../../src/report/checklist-text.js';
import { columns } from '../../src/report/plain.js';
import { handMadePlan } from '../support/hand-made-plan.js';

let plan: GeometricPlan;
let lines: readonly string[];
beforeAll(async () => {
  plan = { ...handMadePlan(await loadLinearPrograms()), cautions: [...CAUTIONS] };
  lines = checklistText(plan).split('\n');
});

/** Robot and number of each step that has a box, in order. */
const ticked = (): string[] =>
  lines.flatMap((line) => {
    const found = /^ {2}\[ \] +(handler|welder) +(\d+) /.exec(line);
    return found ? [`${found[1]} ${found[2]}`] : [];
  });

describe('checklistText', () => {
  it('has a box for every step of every robot, once', () => {
    const all = plan.programs.flatMap(({ robot, steps }) => steps.map(({ n }) => `${robot} ${n}`));
    expect([...ticked()].sort()).toEqual([...all].sort());
  });

  it('can be done in its order: no wait before its signal, each robot step by step', () => {
    const order = ticked();
    const at = ({ robot, step }: { robot: string; step: number }): number =>
      order.indexOf(`${robot} ${step}`);
    for (const { from, to } of plan.handshakes) expect(at(from)).toBeLessThan(at(to));
    for (const { robot, steps } of plan.programs)
      for (const { n } of steps.slice(1))
        expect(at({ robot, step: n })).toBeGreaterThan(at({ robot, step: n - 1 }));
  });

  it('says what to do before, what to be careful of, and where a part would fall without tacks', () => {
    const text = lines.join(' ').replace(/ +/g, ' ');
    for (const caution of CAUTIONS) expect(text).toContain(caution);
    expect(lines.filter((line) => line.includes('STOP without'))).toHaveLength(2);
    for (const line of lines) expect(columns(line)).toBeLessThanOrEqual(110);
  });

  it('begins and ends like this', () => {
    expect(lines.slice(0, 9).join('\n')).toMatchInlineSnapshot(`
      "First try of stand on test bench, step by step

      Before the first step:
        [ ] Single step, reduced speed, one person at the enabling switch, nobody else inside the guards.
        [ ] First without parts, then with parts and without arc, then with the arc; each time from the first step.
        [ ] Wire drawn in and welding power off while there shall be no arc.
        [ ] Every protective stop tried before the first move.

      Cautions:"
    `);
    const first = lines.findIndex((line) => line.startsWith('Stage 1'));
    expect(lines.slice(first, first + 8).join('\n')).toMatchInlineSnapshot(`
      "Stage 1, base:
             robot    step  what                              watch
        [ ]  handler     1  go to above the part              arm, hoses and load keep clear
        [ ]  handler     2  is base there?                    take the part away once: it must stop
        [ ]  handler     3  go straight to part               runs straight, meets nothing
        [ ]  handler     4  take base: switch the magnets on  it says that it holds; where the pads sit
        [ ]  handler     5  go straight to lifted             runs straight, meets nothing
        [ ]  handler     6  go to home                        arm, hoses and load keep clear"
    `);
    expect(lines.slice(-6).join('\n')).toMatchInlineSnapshot(`
      "  [ ]  handler    68  wait for done rib (done rib)            it waits until the signal comes

      At the end:
             robot    step  what                            watch
        [ ]  handler    69  hand over the finished tack-up  all robots at home and stopped
      "
    `);
  });
});
