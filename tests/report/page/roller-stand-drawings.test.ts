import { beforeAll, describe, expect, it } from 'vitest';
import type { GeometricPlan } from '../../../src/model/plan.js';
import { buildScene } from '../../../src/model/scene.js';
import type { GeometricContext } from '../../../src/report/page/page-context.js';
import { distortionSection } from '../../../src/report/page/sections/distortion-section.js';
import { graphSection } from '../../../src/report/page/sections/graph-section.js';
import { reservesSection } from '../../../src/report/page/sections/reserves-section.js';
import { timelineSection } from '../../../src/report/page/sections/timeline-section.js';
import { tradeSection } from '../../../src/report/page/sections/trade-section.js';
import { planTables } from '../../../src/report/plan-tables.js';
import { reportPictures } from '../../../src/report/report-pictures.js';
import { tradePoints } from '../../../src/report/trade-points.js';
import { weakestReserve } from '../../../src/report/weakest-point.js';
import { readCsv } from '../../../src/io/tables/csv-records.js';
import { example, inputsOf, Planner, type Files } from '../../support/planned.js';
import { allNamed, marksOf, readSvg } from '../drawn.js';

let planner: Planner;
let plan: GeometricPlan;
let context: GeometricContext;

const contextOf = (files: Files, own: GeometricPlan): GeometricContext => {
  const { weldment, cell } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('no shapes');
  return { plan: own, cell, scene: buildScene(weldment, cell, own.settings), findings: [], why: [] };
};

/** The same plan with a regrip more that takes half as long: what a trade might also come to. */
function quicker(own: GeometricPlan): GeometricPlan {
  const other = structuredClone(own);
  other.stages[1]!.handling.push(structuredClone(other.stages[1]!.handling[0]!));
  other.timeline.makespan /= 2;
  return other;
}

beforeAll(async () => {
  planner = await Planner.load();
  plan = planner.plan(example('roller-stand'));
  const trade = { terms: ['regrips', 'time'] as const, completed: 3, plans: [plan, quicker(plan)] };
  context = { ...contextOf(example('roller-stand'), plan), trade };
}, 600_000);

/** A section as XML: what it is made of is closed properly everywhere, so that it can be read as such. */
const read = (section: string) => readSvg(`<section>${section}</section>`);
const numbers = (element: ReturnType<typeof read>, name: string): number[] =>
  [element.getAttribute(name)].map(Number);

describe('single pictures of the roller stand', () => {
  it('are one for each stage, and the contact graph, timeline, reserves, distortion and trade', () => {
    expect(reportPictures(context).map(({ file }) => file)).toEqual([
      'contact-graph.svg',
      ...plan.stages.map((_, i) => `stage-0${i + 1}.svg`),
      ...['timeline.svg', 'reserves.svg', 'distortion.svg', 'trade.svg'],
    ]);
  });

  it('are sound XML without scripts, on white, with every mark inside and no number that is none', () => {
    for (const { file, svg } of reportPictures(context)) {
      const root = readSvg(svg);
      expect(svg, file).not.toMatch(/NaN|Infinity|undefined|class=|data-pick/);
      expect(allNamed(root, 'script'), file).toEqual([]);
      const [, , width, height] = root.getAttribute('viewBox')!.split(' ').map(Number);
      const marks = marksOf(root);
      expect(marks.length, file).toBeGreaterThan(10);
      expect(marks[0]!.element.getAttribute('fill'), file).toBe('#ffffff');
      for (const { points, element } of marks)
        for (const [x, y] of points) {
          const told = `${file} ${element.nodeName} ${element.textContent ?? ''}`;
          expect(x, told).toBeGreaterThanOrEqual(-0.1);
          expect(y, told).toBeGreaterThanOrEqual(-0.1);
          expect(x, told).toBeLessThanOrEqual(width! + 0.1);
          expect(y, told).toBeLessThanOrEqual(height! + 0.1);
        }
    }
  });

  it('of charts have no text on another', () => {
    const charts = reportPictures(context).filter(({ file }) => /reserves|distortion|trade/.test(file));
    for (const { file, svg } of charts) {
      const boxes = marksOf(readSvg(svg))
        .filter(({ name, element }) => name === 'text' && element.textContent !== '')
        .map(({ element, points: [[x, y] = [0, 0]] }) => {
          const width = (element.textContent ?? '').length * 0.46 * Number(element.getAttribute('font-size'));
          const anchor = element.getAttribute('text-anchor');
          const left = x - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
          return { text: element.textContent, left, right: left + width, top: y - 9, bottom: y };
        });
      boxes.forEach((a, i) => {
        for (const b of boxes.slice(i + 1)) {
          const meet = a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
          expect(meet, `${file}: ${a.text} / ${b.text}`).toBe(false);
        }
      });
    }
  });
});

describe('the timeline of the roller stand', () => {
  it('has every activity of the plan with its times, each picked by its first step', () => {
    const drawn = allNamed(read(timelineSection(context)), 'g').filter(
      (group) => group.hasAttribute('data-what') && group.hasAttribute('data-pick'),
    );
    const told = drawn.map((group) => ({
      what: group.getAttribute('data-what'),
      start: Number(group.getAttribute('data-start')),
      end: Number(group.getAttribute('data-end')),
      critical: group.getAttribute('data-critical') === 'yes',
    }));
    expect(told).toEqual(
      plan.programs.flatMap(({ robot }) =>
        plan.timeline.activities
          .filter((activity) => activity.robot === robot)
          .map(({ what, start, end, critical }) => ({ what, start, end, critical })),
      ),
    );
    for (const group of drawn) {
      const [, robot, n] = /^step:(\d+)\.(\d+)$/.exec(group.getAttribute('data-pick')!)!;
      const step = plan.programs[Number(robot)]!.steps.find((one) => one.n === Number(n))!;
      expect(step.start).toBe(Number(group.getAttribute('data-start')));
      expect(group.getAttribute('data-at')).toBe(group.getAttribute('data-start'));
      expect(allNamed(group, 'title')[0]!.textContent).toContain(group.getAttribute('data-what')!);
    }
  });

  it('has an arrow for every handshake, from the end of its signal to the end of its wait', () => {
    const arrows = allNamed(read(timelineSection(context)), 'g').filter(
      (group) => group.hasAttribute('data-signal') && group.hasAttribute('data-pick'),
    );
    const stepOf = ({ robot, step }: { robot: string; step: number }) =>
      plan.programs.find((program) => program.robot === robot)!.steps.find(({ n }) => n === step)!;
    expect(
      arrows.map((arrow) => [
        arrow.getAttribute('data-pick'),
        ...['data-from', 'data-to'].flatMap((name) => numbers(arrow, name)),
      ]),
    ).toEqual(plan.handshakes.map(({ from, to }, i) => [`handshake:${i}`, stepOf(from).end, stepOf(to).end]));
  });

  it('has a bar for every part that is held, from when it is still to its let-go', () => {
    const bars = allNamed(read(timelineSection(context)), 'g').filter((g) => g.hasAttribute('data-hold'));
    const steps = plan.programs.flatMap((program) => program.steps);
    const held = plan.stages.filter(({ held: by }) => by !== null);
    const wide = bars.slice(0, held.length);
    expect(wide.map((bar) => Number(bar.getAttribute('data-hold')))).toEqual(held.map((one) => one.number));
    wide.forEach((bar, i) => {
      const { part } = held[i]!;
      const still = steps.find((step) => step.do === 'hold' && step.part === part)!;
      const over = steps.find((step) => step.do === 'let-go' && step.part === part)!;
      expect(numbers(bar, 'data-start')[0]).toBe(still.start);
      expect(numbers(bar, 'data-end')[0]).toBe(over.start);
    });
  });

  it('is a table too', () => {
    const rows = allNamed(read(timelineSection(context)), 'tr');
    expect(rows).toHaveLength(2 + plan.timeline.activities.length + plan.handshakes.length);
  });
});

describe('charts of the roller stand', () => {
  it('show the least reserve of every stage as the plan has it', () => {
    const values = allNamed(read(reservesSection(context)), 'g')
      .filter((group) => group.hasAttribute('data-value'))
      .flatMap((group) => numbers(group, 'data-value'));
    expect(values).toEqual([
      ...plan.stages.map(({ reserves }) => weakestReserve(reserves)!.reserve),
      ...plan.stages.flatMap(({ handling }) => handling.map(({ carried }) => carried.reserve)),
    ]);
  });

  it('show every tolerance and every opening', () => {
    const section = read(distortionSection(context));
    const groups = allNamed(section, 'g').filter((group) => group.hasAttribute('data-value'));
    const openings = groups.filter((group) => group.getAttribute('data-pick')?.startsWith('tack:') === true);
    expect(numbers(groups[0]!, 'data-value')[0]).toBe(plan.distortion.features[0]!.deviation);
    expect(openings.flatMap((group) => numbers(group, 'data-value'))).toEqual(
      plan.stages.flatMap(({ distortion }) => distortion.openings.map(({ before }) => before)),
    );
  });

  it('mark the plan that is shown in a trade, and put it beside one that does not have it', () => {
    const trade = context.trade!;
    expect(tradePoints(trade, plan).points.map(({ number, own }) => [number, own])).toEqual([
      [1, true],
      [2, false],
    ]);
    const beside = tradePoints({ ...trade, plans: [quicker(plan)] }, plan).points;
    expect(beside.map(({ number, own }) => [number, own])).toEqual([
      [1, false],
      [0, true],
    ]);
    expect(tradeSection(context)).toContain('plan 1, this one');
  });

  it('tell the other terms in which a plan of a trade differs, so that what looks better shows its price', () => {
    const { others, points } = tradePoints(
      { ...context.trade!, terms: ['tool-changes', 'time'], plans: [quicker(plan)] },
      plan,
    );
    expect(others).toEqual(['regrips']);
    expect(points[0]!.others[0]! - points[1]!.others[0]!).toBe(1);
  });
});

describe('the contact graph of the roller stand', () => {
  it('counts the tacks of every joint', () => {
    const plates = allNamed(read(graphSection(context)), 'g').filter(
      (group) => group.getAttribute('data-pick')?.startsWith('joint:') === true,
    );
    const tacks = plan.stages.flatMap((stage) => stage.tacks);
    const told = plates.map((plate) => allNamed(plate, 'text')[0]!.textContent);
    expect([...told].sort()).toEqual(
      plan.joints
        .map(({ id }) => [id, tacks.filter(({ joint }) => joint === id).length] as const)
        .map(([id, count]) => `${id}: ${count} ${count === 1 ? 'tack' : 'tacks'}`)
        .sort(),
    );
  });
});

describe('tables of the roller stand', () => {
  it('are read back as the plan has them', () => {
    const tables = new Map(planTables(plan).map(({ file, text }) => [file, text]));
    const rowsOf = (file: string): string[][] => {
      const records = readCsv(tables.get(file)!);
      if (!records.ok) throw new Error(records.error.problem);
      return records.value.slice(1).map(({ fields }) => [...fields]);
    };
    expect(rowsOf('activities.csv').map((row) => row.slice(0, 5))).toEqual(
      plan.timeline.activities.map((one) => [one.robot, one.stage, one.what, one.start, one.end].map(String)),
    );
    expect(rowsOf('objective.csv').map(([term, value]) => [term, Number(value)])).toEqual(
      plan.objective.map(({ term, value }) => [term, value]),
    );
    expect(
      rowsOf('objective.csv')
        .find(([term]) => term === 'time')
        ?.at(-1),
    ).toBe('0.1 s');
    const reserves = plan.stages.flatMap((stage) => [...stage.reserves, ...stage.handling]);
    expect(rowsOf('reserves.csv')).toHaveLength(reserves.length);
    expect(rowsOf('tacks.csv').map((row) => row[2])).toEqual(
      plan.stages.flatMap(({ tacks }) => tacks.map(({ id }) => id)),
    );
  });
});

describe('names that try to break out', () => {
  it('are shown as text and nothing else', () => {
    const hostile = '</svg><script>alert(1)</script>"\'&=';
    const renamed = <T>(value: T): T =>
      JSON.parse(
        JSON.stringify(value)
          .replaceAll('"cheek-left"', JSON.stringify(hostile))
          .replaceAll('"handler"', JSON.stringify(`=${hostile}`)),
      ) as T;
    const other = renamed(plan);
    const scene = buildScene(renamed(context.scene.weldment), context.cell, plan.settings);
    const bad = { ...context, plan: other, scene };
    const sections = [timelineSection, graphSection, reservesSection, distortionSection, tradeSection];
    for (const section of sections) {
      const root = read(section(bad));
      expect(allNamed(root, 'script')).toEqual([]);
      expect(root.textContent).not.toContain('undefined');
    }
    for (const { svg } of reportPictures(bad)) expect(allNamed(readSvg(svg), 'script')).toEqual([]);
    const activities = planTables(other).find(({ file }) => file === 'activities.csv')!.text;
    expect(activities).toContain(`"'=${hostile.replaceAll('"', '""')}"`);
  });
});
