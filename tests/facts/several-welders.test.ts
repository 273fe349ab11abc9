import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { setOf } from '../../src/base/part-set.js';
import type { Facts } from '../../src/facts/facts.js';
import { isMet, surveyReach } from '../../src/facts/reach-survey.js';
import { targetsOf, type ReachTarget } from '../../src/facts/reach-tries.js';
import { seamAccess } from '../../src/facts/seam-access.js';
import type { TackSite } from '../../src/facts/tack-sites.js';
import { enoughSites } from '../../src/planning/enough-sites.js';
import { factsOf } from '../../src/planning/plan.js';
import { inputsOf, story } from '../support/planned.js';

let facts: Facts;

beforeAll(async () => {
  const { weldment, cell, settings } = inputsOf(story('second-torch-behind-the-wall'));
  if (weldment.kind !== 'geometric' || !cell) throw new Error('the story has no shapes');
  facts = factsOf(weldment, cell, settings, await loadLinearPrograms());
});

describe('a seam that one of two welding robots gets at', () => {
  it('is got at by both together as by that one alone, and not by the other', () => {
    const joint = facts.joints[1]!;
    const present = setOf(facts.scene.parts.length, [joint.a, joint.b]);
    const [together, able, unable] = [undefined, 'second', 'welder'].map((robot) =>
      seamAccess(facts, joint, joint.seams[0]!, present, robot),
    );
    expect(able!.reached).toBeGreaterThan(0);
    expect(unable!.reached).toBe(0);
    expect(unable!.against[0]!.nearest.subjects).toContain('welder');
    expect(together!.stretches).toEqual(able!.stretches);
  });

  it('has its place in the survey for each, and is met', () => {
    const seams = targetsOf(facts).filter((target) => 'seam' in target);
    const survey = surveyReach(facts, enoughSites(facts), seams);
    expect(survey.map(({ robot, reached }) => [robot, reached])).toEqual([
      ...[
        ['welder', true],
        ['second', true],
      ],
      ...[
        ['welder', false],
        ['second', true],
      ],
      ...[
        ['welder', false],
        ['second', true],
      ],
    ]);
    for (const target of seams)
      expect(
        isMet(
          facts,
          survey.filter((one) => one.target === target),
          enoughSites(facts),
        ),
      ).toBe(true);
  });
});

describe('a seam that neither of two robots tacks alone', () => {
  const target = { station: 'table', joint: {}, seam: {} } as Extract<ReachTarget, { seam: unknown }>;
  const sites = { sites: () => [0, 1, 2, 3].map((start) => ({ start }) as TackSite) };
  const all = (_: unknown, __: unknown, open: readonly TackSite[]): boolean => open.length === 4;
  const by = (...open: readonly boolean[]) => ({ target, reached: false, open });

  it('is met where each site is reached by one of them', () => {
    expect(isMet(sites, [by(true, true, true, false), by(false, false, true, true)], all)).toBe(true);
    expect(isMet(sites, [by(true, true, false, false), by(false, false, false, true)], all)).toBe(false);
    expect(isMet(sites, [by(true, true, true, false)], all)).toBe(false);
  });
});
