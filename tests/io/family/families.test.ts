import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { facePatches } from '../../../src/geometry/patches.js';
import { placeSolid } from '../../../src/geometry/solid.js';
import type { Family, Variant } from '../../../src/model/family.js';
import { shapeSolid } from '../../../src/model/part-geometry.js';
import type { Weldment } from '../../../src/model/weldment.js';
import { filesBesideFamily, readFamily, type FamilyReading } from '../../../src/io/family/read-family.js';
import { readWeldment } from '../../../src/io/read-weldment.js';
import { readInputs } from '../../../src/session/inputs.js';
import { told } from '../told.js';

const text = (path: string): string =>
  readFileSync(new URL(`../../../examples/${path}`, import.meta.url), 'utf8');

function reading(name: string, change = (file: string): string => file): FamilyReading {
  const file = change(text(`families/${name}.family.yaml`));
  const beside = filesBesideFamily(file).map((path) => [path, text(`families/${path}`)] as const);
  return readFamily(file, `${name}.family.yaml`, Object.fromEntries(beside));
}

function family(name: string, change?: (file: string) => string): Family {
  const read = reading(name, change);
  expect(told(read)).toEqual([]);
  return read.family!;
}

const weldmentOf = ({ name, text }: Variant): Weldment => {
  const read = readWeldment(text, name);
  expect(told(read)).toEqual([]);
  return read.value as Weldment;
};

/** Pairs of parts whose faces meet within the fit-up gap. */
function meetings({ parts, fitUp }: Weldment): readonly string[] {
  const solids = parts.map(({ shape, pose }) => placeSolid(shapeSolid(shape), pose));
  return parts.flatMap((a, i) =>
    parts.flatMap((b, k) =>
      k > i && facePatches(solids[i]!, solids[k]!, fitUp.gap).length > 0 ? [`${a.id} ${b.id}`] : [],
    ),
  );
}

const EXAMPLES = ['roller-stand', 'ladder-bracket', 'sub-frame'] as const;

describe('the family in the README', () => {
  it('is read, and has the parts that it tells of', () => {
    const readme = readFileSync(new URL('../../../README.md', import.meta.url), 'utf8');
    const read = readFamily(/^```yaml\n(family: .*?)^```$/ms.exec(readme)![1]!, 'posts.family.yaml');
    expect(told(read)).toEqual([]);
    expect(read.family!.variants.map((one) => weldmentOf(one).parts.map(({ id }) => id))).toEqual([
      ['foot', 'lug-1', 'lug-2', 'post', 'rib'],
      ['foot', 'lug-1', 'post'],
    ]);
  });
});

describe('the families among the examples', () => {
  it('have the variants that their README tells of', () => {
    expect(
      EXAMPLES.map((name) =>
        family(name).variants.map((one) => `${one.name} ${weldmentOf(one).parts.length}`),
      ),
    ).toMatchInlineSnapshot(`
      [
        [
          "h180-t8 7",
          "h200-t8 7",
          "h220-t8 7",
          "h240-t8 7",
          "h180-t10 7",
          "h200-t10 7",
          "h220-t10 7",
          "h240-t10 7",
          "h180-t12 7",
          "h200-t12 7",
          "h220-t12 7",
          "h240-t60 7",
        ],
        [
          "two-plain 5",
          "two-one-rib 6",
          "two-ribbed 7",
          "three-plain 6",
          "three-ribbed 8",
        ],
        [
          "short 4",
          "middle 5",
          "long 7",
        ],
      ]
    `);
  });

  it.each(EXAMPLES)(
    '%s: every variant is read with every cell, and its parts meet where they are joined',
    (name) => {
      for (const variant of family(name).variants) {
        for (const cell of ['twin-bench', 'long-bench']) {
          const sources = {
            weldment: { text: variant.text, name: variant.name },
            cell: { text: text(`cells/${cell}.cell.yaml`), name: cell },
          };
          expect(told(readInputs(sources))).toEqual([]);
        }
        const weldment = weldmentOf(variant);
        const joined = weldment.joints!.map(({ between }) => [...between].sort().join(' '));
        expect([...meetings(weldment)].sort()).toEqual(joined.sort());
      }
    },
  );

  it('the roller stand of the middle height is the one among the weldments', () => {
    const given = parse(text('roller-stand/roller-stand.weldment.yaml')) as Record<string, unknown>;
    const variant = family('roller-stand').variants.find((one) => one.name === 'h200-t8')!;
    expect(JSON.parse(variant.text)).toEqual({ ...given, weldment: 'roller-stand-h200-t8' });
  });

  it('give a sound weldment anywhere in their ranges', () => {
    const families = EXAMPLES.map((name) => family(name));
    fc.assert(
      fc.property(
        fc.nat(2),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.boolean(),
        (which, share, flag) => {
          const one = families[which]!;
          const values = one.parameters.flatMap(({ name, range }) =>
            range === undefined ? [] : [[name, range.low + share * (range.high - range.low)] as const],
          );
          const choice =
            which === 1 ? { rungs: flag ? 3 : 2, ribs: flag ? 2 : 0 } : which === 2 ? { mounts: flag } : {};
          const { variant, issues } = one.variantOf('any', { ...Object.fromEntries(values), ...choice });
          expect(told({ issues })).toEqual([]);
          const weldment = weldmentOf(variant!);
          expect(meetings(weldment)).toHaveLength(weldment.joints!.length);
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe('reading a family', () => {
  it('gives the same variants whatever their order, and whatever else is among them', () => {
    const all = family('roller-stand');
    const rows = (parse(text('families/roller-stand.family.yaml')) as { variants: unknown[] }).variants;
    const places = fc.shuffledSubarray(
      rows.map((_, i) => i),
      { minLength: 1 },
    );
    fc.assert(
      fc.property(places, (order) => {
        const some = family('roller-stand', (file) =>
          stringify({ ...(parse(file) as object), variants: order.map((i) => rows[i]) }),
        );
        expect(some.variants).toEqual(order.map((i) => all.variants[i]));
      }),
      { numRuns: 10 },
    );
  });

  it('tells of a variant whose parts overlap, with its name and how far', () => {
    const change = (file: string): string =>
      file.replace('inside: 180 - thick', 'inside: max(180 - thick, 169)');
    expect(told(reading('roller-stand', change))).toMatchInlineSnapshot(`
      [
        "roller-stand.family.yaml [h240-t60]:24: parts.web: web and cheek-left overlap by 24 mm; correct a size, \`at\` or \`turn\` so that they touch or leave a gap",
        "roller-stand.family.yaml [h240-t60]:24: parts.web: web and cheek-right overlap by 24 mm; correct a size, \`at\` or \`turn\` so that they touch or leave a gap",
      ]
    `);
  });
});
