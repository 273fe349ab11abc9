import { beforeAll, describe, expect, it } from 'vitest';
import { setOf } from '../../src/base/part-set.js';
import type { Facts } from '../../src/facts/facts.js';
import { neverStands } from '../../src/planning/never-stands.js';
import { factsOf } from '../../src/planning/plan.js';
import { pushesOn } from '../../src/planning/newcomer-pushes.js';
import { NewcomerStatics } from '../../src/planning/securing.js';
import { example, inputsOf, Planner, story, type Files } from '../support/planned.js';

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

function factsOfFiles(files: Files): Facts {
  const { weldment, cell, settings } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('no shapes');
  return factsOf(weldment, cell, settings, planner.programs);
}

/** Every set of other parts of which some are in place, each with each of them clamped. */
function* beginnings(count: number, part: number): Generator<{ inPlace: number[]; clamped: number }> {
  const others = Array.from({ length: count }, (_, i) => i).filter((i) => i !== part);
  for (let set = 1; set < 2 ** others.length; set += 1) {
    const inPlace = others.filter((_, i) => ((set >> i) & 1) === 1);
    for (const clamped of inPlace) yield { inPlace, clamped };
  }
}

describe('neverStands', () => {
  it.each([
    ['the roller stand', () => example('roller-stand')],
    ['a plate that stands', () => story('wide-foot-never-needs-a-hold')],
  ])(
    'says of a part of %s what is true among any parts that are in place',
    (_, files) => {
      const facts = factsOfFiles(files());
      const { parts } = facts.scene;
      for (const part of parts.keys()) {
        const statics = new NewcomerStatics(facts);
        const falls = [...beginnings(parts.length, part)].map(({ inPlace, clamped }) => {
          const newcomer = { part, inPlace: setOf(parts.length, inPlace), clamped };
          return statics.fall(newcomer, [], [], pushesOn(facts, newcomer));
        });
        const said = neverStands(facts, part);
        const name = parts[part]!.part.id;
        expect(said !== undefined, name).toBe(falls.every((fall) => fall !== undefined));
        if (said === undefined) continue;
        const shares = falls.map((fall) => fall!.reserve / fall!.required);
        expect(said.later.value! / said.later.limit!, name).toBeCloseTo(Math.max(...shares), 9);
      }
    },
    300_000,
  );

  it('says whether the part does not stand as the first one either', () => {
    const facts = factsOfFiles(example('machine-sub-frame'));
    const of = (id: string): boolean | undefined => neverStands(facts, facts.scene.index.get(id)!)?.first;
    expect(of('cross-front')).toBe(false);
    expect(of('gusset-near')).toBe(true);
  }, 300_000);
});
