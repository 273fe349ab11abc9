import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { compose, place, type Pose } from '../../../src/geometry/pose.js';
import { distance, length, type Vec3 } from '../../../src/geometry/vector.js';
import { robotsOf } from '../../../src/model/cell.js';
import type { PageData, PagePart, PagePlace } from '../../../src/report/page/page-data.js';
import type { GeometricContext } from '../../../src/report/page/page-context.js';
import { pageData } from '../../../src/report/page/page-data-of.js';
import { motionsOf } from '../../../src/rules/arm-steps.js';
import { tacksByName } from '../../../src/rules/step-times.js';
import { examplePage, standPage, storyPage } from '../../support/page-plans.js';
import { flangeAt, flangeAtTime, poseOfPage, postureAt, tableAt } from './motion.js';

/** Rounding on the page, mm. */
const ROUNDING = 0.1;

const PLANS = [
  'the stand with a regrip',
  'roller-stand',
  'a-gusset-set-by-hand',
  'flipped-over-on-the-stand',
  'two-robots-two-holds',
  'turntable-makes-the-last-two-seams-possible',
  'tube-in-a-jaw',
] as const;

const contexts = new Map<string, GeometricContext>();
const pages = new Map<string, PageData>();

beforeAll(async () => {
  const programs = await loadLinearPrograms();
  for (const name of PLANS) {
    const context =
      name === 'the stand with a regrip'
        ? standPage(programs)
        : name === 'roller-stand'
          ? await examplePage(name)
          : storyPage(name, programs);
    contexts.set(name, context);
    pages.set(name, pageData(context));
  }
}, 600_000);

const corners = ({ mesh }: PagePart): readonly Vec3[] =>
  Array.from({ length: mesh.corners.length / 3 }, (_, i) => [
    mesh.corners[3 * i]!,
    mesh.corners[3 * i + 1]!,
    mesh.corners[3 * i + 2]!,
  ]);

/** How far the corners of a part are apart in two poses, mm. */
const apart = (part: PagePart, a: Pose, b: Pose): number =>
  Math.max(...corners(part).map((corner) => distance(place(a, corner), place(b, corner))));

/** Where a part is in the cell at a time, by one of its places. */
function inCell(page: PageData, { where, robot, pose }: PagePlace, time: number): Pose {
  if (where === 'carried') return compose(flangeAtTime(page.robots[robot!]!, time), poseOfPage(pose));
  return where === 'in-place' ? compose(tableAt(page, time), poseOfPage(pose)) : poseOfPage(pose);
}

describe.each(PLANS)('what the page is told of %s', (name) => {
  let page: PageData;
  let context: GeometricContext;
  beforeAll(() => {
    page = pages.get(name)!;
    context = contexts.get(name)!;
  });

  it('has steps and ways that begin where the last ended, from home on', () => {
    page.robots.forEach(({ steps }, robot) => {
      const { home } = robotsOf(context.cell)[robot]!;
      home.forEach((value, i) => expect(steps[0]!.way[0]![i]).toBeCloseTo(value, 4));
      expect(steps[0]!.start).toBe(0);
      expect(steps.at(-1)!.end).toBeLessThanOrEqual(page.makespan);
      steps.slice(1).forEach(({ start, way }, k) => {
        expect(start).toBe(steps[k]!.end);
        way[0]!.forEach((value, i) => expect(value).toBeCloseTo(steps[k]!.way.at(-1)![i]!, 4));
      });
      for (const { way, at = [] } of steps) {
        expect(at).toHaveLength(Math.max(0, way.length - 2));
        const times = [0, ...at, 1];
        times.slice(1).forEach((time, k) => expect(time).toBeGreaterThan(times[k]!));
      }
    });
  });

  it('keeps the flange within half a millimetre of the ways that the rules replay', () => {
    page.robots.forEach((robot, r) => {
      const who = robotsOf(context.cell)[r]!;
      const program = context.plan.programs.find((one) => one.robot === who.id);
      if (program === undefined) return;
      motionsOf(who, program.steps, tacksByName(context.plan)).forEach((motion, i) => {
        const way = motion!.way;
        const flanges = way.map((joints) => flangeAt(robot, joints).at);
        const whole = distance(flanges[0]!, flanges.at(-1)!);
        flanges.forEach((flange, k) => {
          const even = k / Math.max(1, way.length - 1);
          const share =
            motion!.kind === 'joint' || whole < 0.01 ? even : distance(flanges[0]!, flange) / whole;
          const posture = postureAt(robot.steps[i]!, share);
          expect(distance(flangeAt(robot, posture).at, flange)).toBeLessThan(0.5 + ROUNDING);
        });
      });
    });
  });

  it('has every part in its place at the end, and there is none that jumps on its way', () => {
    for (const part of page.parts) {
      const { places } = part;
      const last = places.at(-1)!;
      expect(last.where).toBe('in-place');
      expect(last.pose).toEqual(part.final);
      places.slice(1).forEach((now, k) => {
        const before = places[k]!;
        expect(now.from).toBeGreaterThan(before.from);
        expect(apart(part, inCell(page, before, now.from), inCell(page, now, now.from))).toBeLessThan(
          ROUNDING,
        );
      });
    }
  });

  it('takes and puts parts where the plan says', () => {
    for (const { part: id, handling } of context.plan.stages) {
      const part = page.parts[context.scene.index.get(id)!]!;
      const stated = handling.flatMap(({ take, put }) => [take.part.at, put.part.at]);
      const shown = part.places.flatMap((now, k) => {
        if (now.where !== 'carried') return [];
        return [now.from, part.places[k + 1]!.from].map((time) => inCell(page, now, time).at);
      });
      expect(shown).toHaveLength(stated.length);
      const grips = context.plan.programs
        .flatMap(({ steps }) => steps)
        .filter((step) => step.do === 'grip' && step.part === id)
        .map(({ end }) => end);
      for (const { from, where } of part.places)
        if (where === 'carried')
          expect(Math.min(...grips.map((end) => Math.abs(end - from)))).toBeLessThan(0.01);
      stated.forEach((at, i) => expect(distance(at, shown[i]!)).toBeLessThan(ROUNDING));
    }
  });

  it('has the wire tip at the start and at the end of every tack that a robot lays', () => {
    const tacks = page.stages.flatMap((stage) => stage.tacks);
    expect(tacks.length).toBeGreaterThan(0);
    for (const { robot, from, to, start, end, torch } of tacks) {
      if (robot === null) continue;
      expect(length(torch!)).toBeCloseTo(1, 4);
      const who = robotsOf(context.cell)[robot]!;
      if (who.duty !== 'weld') throw new Error('a handling robot lays a tack');
      const step = page.robots[robot]!.steps.find((one) => one.start === start && one.end === end)!;
      const tips = [step.way[0]!, step.way.at(-1)!].map((joints) =>
        place(flangeAt(page.robots[robot]!, joints), who.torch.tip.at),
      );
      const table = tableAt(page, start!);
      expect(distance(tips[0]!, place(table, from))).toBeLessThan(ROUNDING);
      expect(distance(tips[1]!, place(table, to))).toBeLessThan(ROUNDING);
    }
  });

  it('has stages in order, each part placed in its own, and held while securing tacks are laid', () => {
    expect(page.stages.map(({ number }) => number)).toEqual(context.plan.stages.map(({ number }) => number));
    for (const stage of page.stages) {
      const { start, placed, end, part, hold, heldBy, alsoHeld, tacks } = stage;
      expect(start).toBeLessThan(placed);
      expect(placed).toBeLessThanOrEqual(end);
      expect(page.parts[part]!.places.at(-1)!.from).toBe(placed);
      expect(hold === null).toBe(heldBy === null && alsoHeld === null);
      for (const tack of tacks) {
        if (tack.start === null) continue;
        expect(tack.start).toBeGreaterThanOrEqual(placed);
        expect(tack.end).toBeLessThanOrEqual(end);
        if (hold === null || tack.phase !== 'securing') continue;
        expect(hold[0]).toBeLessThanOrEqual(tack.start);
        expect(hold[1]).toBeGreaterThanOrEqual(tack.end!);
      }
    }
  });

  it('says of everything that can be picked what it is', () => {
    const picks = [
      ...page.parts.map((_, i) => `part:${i}`),
      ...page.joints.map(({ pick }) => pick),
      ...page.stages.flatMap(({ number, tacks }) => [`stage:${number}`, ...tacks.map(({ pick }) => pick)]),
      ...page.robots.flatMap(({ steps }, robot) =>
        steps.filter(({ n, start, end }) => n > 0 && end > start).map(({ n }) => `step:${robot}.${n}`),
      ),
      ...context.plan.handshakes.map((_, i) => `handshake:${i}`),
    ];
    for (const pick of picks) expect(page.details).toHaveProperty([pick]);
    for (const [pick, { title, rows }] of Object.entries(page.details)) {
      expect(pick).toMatch(/^(part|joint|tack|step|handshake|stage):\d+(\.\d+)?$/);
      for (const told of [title, ...rows.flat()]) expect(told).not.toMatch(/^$|undefined|NaN|\[object/);
    }
  });

  it('has distortion in order of time, of parts that are in place by then', () => {
    const { distortion } = page;
    distortion.slice(1).forEach(({ time }, k) => expect(time).toBeGreaterThanOrEqual(distortion[k]!.time));
    for (const { time, parts } of distortion)
      for (const { part } of parts) expect(page.parts[part]!.places.at(-1)!.from).toBeLessThanOrEqual(time);
  });

  it('is the same when it is made again', () => {
    expect(JSON.stringify(pageData(context))).toBe(JSON.stringify(page));
  });
});

describe('what the page is told', () => {
  const where = (name: string): ReadonlySet<string> =>
    new Set(pages.get(name)!.parts.flatMap(({ places }) => places.map((place) => place.where)));

  it('has parts on the regrip table and on the two-sided stand', () => {
    expect(where('the stand with a regrip')).toContain('regrip');
    expect(where('flipped-over-on-the-stand')).toContain('two-sided');
  });

  it('has a part that a person sets from the end of that work on, with tacks that no robot lays', () => {
    const { parts, stages } = pages.get('a-gusset-set-by-hand')!;
    const byHand = stages.find(({ approach }) => approach === null)!;
    expect(parts[byHand.part]!.places).toEqual([
      { from: byHand.placed, where: 'in-place', pose: parts[byHand.part]!.final },
    ]);
    expect(byHand.tacks.length).toBeGreaterThan(0);
    for (const tack of byHand.tacks) expect(tack).toMatchObject({ robot: null, torch: null, start: null });
  });

  it('has a table that turns, the weldment with it', () => {
    const { turns, stages, fixtures } = pages.get('turntable-makes-the-last-two-seams-possible')!;
    expect(turns.length).toBeGreaterThan(0);
    for (const { turn, placed } of stages) {
      const last = turns.findLast(({ end }) => end <= placed);
      expect(Math.cos((last?.to ?? 0) - turn)).toBeCloseTo(1, 6);
    }
    expect(fixtures.filter(({ turns: turning }) => turning).map(({ kind }) => kind)).toEqual(['table']);
  });

  it('is small', () => {
    expect(JSON.stringify(pages.get('roller-stand')).length).toBeLessThan(250_000);
  });
});
