import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCell } from '../../../src/io/read-cell.js';
import { readWeldment } from '../../../src/io/read-weldment.js';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import type { AbstractWeldment } from '../../../src/model/weldment.js';
import { alikeGroups } from '../../../src/study/families/alike.js';
import { FAMILIES } from '../../../src/study/families/families.js';
import { streamFor } from '../../../src/study/families/dials.js';
import { generateInstance } from '../../../src/study/families/generate.js';
import { instanceText } from '../../../src/study/families/instance-text.js';
import { massOf } from '../../../src/study/families/mass.js';
import { readOptions, type InstanceOptions } from '../../../src/study/families/options.js';
import type { Family, Form } from '../../../src/study/families/structure.js';
import { anyOrder, orderFacts, orderMasks } from '../../../src/planning/abstract-facts.js';
import { inspectSession } from '../../../src/session/inspect-session.js';

const share = fc.integer({ min: 0, max: 10 }).map((tenths) => tenths / 10);

const anyOptions = (most: number): fc.Arbitrary<InstanceOptions> =>
  fc.record({
    parts: fc.integer({ min: 6, max: most }),
    seed: fc.integer({ min: 0, max: 2 ** 32 - 1 }),
    blocking: share,
    grippers: fc.integer({ min: 1, max: 12 }),
    single: share,
    regrips: share,
  });

const anyFamily = fc.constantFrom(...FAMILIES);

const textOf = (family: Family, options: InstanceOptions, form: Form): string => {
  const { weldment, about } = generateInstance(family, options, form);
  return instanceText(weldment, about);
};

function read(family: Family, options: InstanceOptions): AbstractWeldment {
  const { value, issues } = readWeldment(textOf(family, options, 'abstract'), 'instance');
  expect(issues).toEqual([]);
  expect(value!.kind).toBe('abstract');
  return value as AbstractWeldment;
}

const blockedPairs = ({ blocking }: AbstractWeldment): readonly string[] =>
  blocking.flatMap(({ part, by }) => by.map((other) => `${part} by ${other}`));

const among = (some: readonly string[], all: readonly string[]): boolean => {
  const set = new Set(all);
  return some.every((one) => set.has(one));
};

describe('every family', () => {
  it.each(FAMILIES)(
    '$name has exactly as many parts as asked for, from 6 to 200, by names of their own',
    (family) => {
      for (let parts = 6; parts <= 200; parts += 1) {
        const { parts: made } = family.build(parts, streamFor(parts, 'sizes'), 'abstract');
        expect(made.length).toBe(parts);
        expect(new Set(made.map(({ id }) => id)).size).toBe(parts);
      }
    },
  );

  it('has a legal order in the order of its parts, whatever the dials', () => {
    fc.assert(
      fc.property(anyFamily, anyOptions(80), (family, options) => {
        const weldment = read(family, options);
        const { parts } = family.build(options.parts, streamFor(options.seed, 'structure'), 'abstract');
        const place = new Map(parts.map(({ id }, i) => [id, i]));
        const at = (id: string): number => place.get(id)!;
        for (const { part, by } of weldment.blocking)
          for (const other of by) expect(at(part)).toBeLessThan(at(other));
        for (const { part, after } of weldment.needs)
          for (const other of after) expect(at(other)).toBeLessThan(at(part));
        for (const { id } of parts.slice(1))
          expect(
            weldment.contacts!.some((pair) => pair.includes(id) && pair.some((other) => at(other) < at(id))),
          ).toBe(true);
        expect(anyOrder(orderMasks(weldment, orderFacts(weldment)))).toBeDefined();
      }),
      { numRuns: 60 },
    );
  });

  it('gives the same bytes for the same request, and others for another seed', () => {
    fc.assert(
      fc.property(
        anyFamily,
        anyOptions(60),
        fc.constantFrom<Form>('abstract', 'geometric'),
        (family, options, form) => {
          const text = textOf(family, options, form);
          expect(textOf(family, options, form)).toBe(text);
          expect(textOf(family, { ...options, seed: (options.seed + 1) % 2 ** 32 }, form)).not.toBe(text);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('has parts that can change places: nothing but their names tells those that are alike apart', () => {
    fc.assert(
      fc.property(anyFamily, anyOptions(60), (family, options) => {
        const weldment = read(family, options);
        const structure = family.build(options.parts, streamFor(options.seed, 'structure'), 'abstract');
        const facts = (swap: (id: string) => string): string[] =>
          [
            ...weldment.contacts!.map((pair) => pair.map(swap).sort().join(' touches ')),
            ...weldment.joints.map(
              ({ between, tacks }) => `${between.map(swap).sort().join(' joins ')} ${tacks}`,
            ),
            ...weldment.blocking.flatMap(({ part, by }) =>
              by.map((other) => `${swap(part)} by ${swap(other)}`),
            ),
            ...weldment.needs.flatMap(({ part, after }) =>
              after.map((other) => `${swap(part)} after ${swap(other)}`),
            ),
            ...weldment.parts.map(({ id, mass, ways }) => `${swap(id)} ${mass} ${JSON.stringify(ways)}`),
          ].sort();
        const asTheyAre = facts((id) => id);
        for (const { members } of alikeGroups(structure)) {
          const [a, b] = [members[0]!.id, members.at(-1)!.id];
          expect(facts((id) => (id === a ? b : id === b ? a : id))).toEqual(asTheyAre);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('the dials', () => {
  it('more blocking keeps what less of it blocks, none of it blocks nothing, and all of it all that makes sense', () => {
    fc.assert(
      fc.property(anyFamily, anyOptions(60), share, (family, options, other) => {
        const [less, more] = [options.blocking, other].sort((a, b) => a - b) as [number, number];
        const pairs = (blocking: number): readonly string[] =>
          blockedPairs(read(family, { ...options, blocking }));
        expect(among(pairs(less), pairs(more))).toBe(true);
        expect(pairs(0)).toEqual([]);
        const { parts, blocks } = family.build(
          options.parts,
          streamFor(options.seed, 'structure'),
          'abstract',
        );
        const sensible = blocks.flatMap(({ alike, by }) =>
          parts.filter((part) => part.alike === alike).map(({ id }) => `${id} by ${by}`),
        );
        expect(among(sensible, pairs(1))).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  it('the share of parts for one gripper alone, and of those with a regrip, grows with its dial and hits its ends', () => {
    fc.assert(
      fc.property(anyFamily, anyOptions(60), (family, options) => {
        const many = { ...options, grippers: Math.max(2, options.grippers) };
        const count = (
          changed: Partial<InstanceOptions>,
          counts: (w: AbstractWeldment['parts'][number]) => boolean,
        ) => read(family, { ...many, ...changed }).parts.filter(counts).length;
        const alone = (single: number): number => count({ single }, ({ ways }) => ways.length === 1);
        const turned = (regrips: number): number =>
          count({ regrips }, ({ ways }) => ways.some((way) => way.regrips > 0));
        for (const of of [alone, turned]) {
          const counts = [0, 0.3, 0.7, 1].map(of);
          expect(counts).toEqual([...counts].sort((a, b) => a - b));
          expect([counts[0], counts[3]]).toEqual([0, options.parts]);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('uses every gripper as soon as there are kinds of parts for each', () => {
    fc.assert(
      fc.property(anyFamily, anyOptions(60), (family, options) => {
        const { parts } = read(family, options);
        const used = new Set(parts.flatMap(({ ways }) => ways.map(({ gripper }) => gripper)));
        const groups = alikeGroups(
          family.build(options.parts, streamFor(options.seed, 'structure'), 'abstract'),
        );
        expect(used.size).toBeGreaterThanOrEqual(Math.min(options.grippers, groups.length));
        expect(used.size).toBeLessThanOrEqual(options.grippers);
      }),
      { numRuns: 40 },
    );
  });

  it.each([
    [{ parts: 5 }, '--parts 5: write a whole number from 6 to 200'],
    [{ parts: 6.5 }, '--parts 6.5: write a whole number from 6 to 200'],
    [{ parts: 8, blocking: -0.1 }, '--blocking -0.1: write a number from 0 to 1'],
    [{ parts: 8, regrips: Number.NaN }, '--regrips NaN: write a number from 0 to 1'],
    [{ parts: 8, grippers: 0 }, '--grippers 0: write a whole number from 1 to 12'],
    [{ parts: 8, seed: 2 ** 32 }, '--seed 4294967296: write a whole number from 0 to 4294967295'],
  ])('%j is told in one line', (given, line) => {
    expect(readOptions(given)).toEqual({ ok: false, error: line });
  });
});

describe('instances with shapes', () => {
  it.each(FAMILIES.flatMap((family) => [8, 16, 40].map((parts) => ({ family, name: family.name, parts }))))(
    '$name of $parts parts: no issue, no overlap; contacts and masses are those of the structure',
    async ({ family, parts }) => {
      const programs = await loadLinearPrograms();
      const structure = family.build(parts, streamFor(parts, 'structure'), 'geometric');
      const pairs = (list: readonly (readonly string[])[]): string[] =>
        list.map((pair) => [...pair].sort().join(' touches ')).sort();
      for (const blocking of [0, 1]) {
        const options = readOptions({ parts, seed: parts, blocking });
        if (!options.ok) throw new Error(options.error);
        const text = textOf(family, options.value, 'geometric');
        const outcome = inspectSession({ weldment: { text, name: 'instance' } }, programs);
        expect(outcome.issues).toEqual([]);
        if (outcome.kind !== 'inspected') throw new Error(outcome.kind);
        const { contacts, joints, parts: seen } = outcome.inspection;
        expect(pairs(contacts.map(({ between }) => between))).toEqual(
          pairs([...structure.joints.map(({ between }) => between), ...structure.touching]),
        );
        expect(joints.length).toBe(structure.joints.length);
        // Up to its rounding, and a part cut shorter by a millimetre.
        for (const { id, mass } of seen) {
          const stated = massOf(structure.parts.find((part) => part.id === id)!.shape);
          expect(Math.abs(stated - mass)).toBeLessThan(0.12);
        }
      }
    },
  );

  it('reads the cell that goes with them without an issue', () => {
    for (const family of FAMILIES) {
      const options = readOptions({ parts: 40 });
      if (!options.ok) throw new Error(options.error);
      const { cell, about } = generateInstance(family, options.value, 'geometric');
      expect(readCell(instanceText(cell, about), 'cell').issues).toEqual([]);
    }
  });
});
