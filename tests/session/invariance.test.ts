import fc from 'fast-check';
import { beforeAll, describe, it } from 'vitest';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import { example, Planner, type ExampleName, type Files } from '../support/planned.js';
import { cellMoved, frameShifted, renamed, type Names } from './changed-files.js';
import { expectSameProof } from './proved-terms.js';
import { anyShift, anyStand, stand } from './small-stands.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

/** No shrinking: every try is a whole plan. */
const runs = (numRuns: number) => ({ numRuns, seed: 11, endOnFailure: true });
const EXAMPLES: readonly ExampleName[] = ['roller-stand', 'box-beam'];
const COUNTS: readonly ObjectiveTerm[] = ['regrips', 'tool-changes'];

const same = (changed: Files, original: Files, compared?: readonly ObjectiveTerm[]): void =>
  expectSameProof(planner.outcome(changed), planner.outcome(original), compared);

const LETTERS = ['k', 'c', 'q', 'a', 'x', 'f', 't'] as const;

/** Names by a permutation of the letters; parts and grippers are listed back to front. */
const namesFor = ({ weldment, cell }: Files, letters: readonly string[]): Names => {
  const parts = Object.keys(weldment.parts).toReversed();
  const grippers = Object.keys(cell.grippers).toReversed();
  return {
    parts: Object.fromEntries(parts.map((id, i) => [id, letters[i]!])),
    grippers: Object.fromEntries(grippers.map((id, i) => [id, `g-${letters[i]!}`])),
  };
};

const anyLetters = (): fc.Arbitrary<string[]> =>
  fc.shuffledSubarray([...LETTERS], { minLength: LETTERS.length, maxLength: LETTERS.length });

describe('cell and weldment moved together', () => {
  it('prove the same, shifted and turned by quarters', () => {
    fc.assert(
      fc.property(anyStand(), anyShift(), fc.constantFrom(0, 90, 180, 270), (sizes, shift, degrees) =>
        same(cellMoved(stand(sizes), { degrees, shift }), stand(sizes)),
      ),
      runs(3),
    );
  });

  it('prove the same numbers of regrips and tool changes, turned by any angle', () => {
    fc.assert(
      fc.property(anyStand(), anyShift(), fc.integer({ min: -179, max: 179 }), (sizes, shift, degrees) =>
        same(cellMoved(stand(sizes), { degrees, shift }), stand(sizes), COUNTS),
      ),
      runs(3),
    );
  });

  it('prove the same time, turned by half a quarter', () => {
    const files = stand({ height: 200, aside: 90, extras: ['gusset', 'saddle'] });
    same(cellMoved(files, { degrees: 45, shift: [0, 0, 0] }), files);
  });

  it.each(EXAMPLES)('prove the same for %s, with the frame of the weldment shifted as well', (name) => {
    const shifted = frameShifted(example(name), [-131.7, 12.3, 255.1]);
    same(cellMoved(shifted, { degrees: -90, shift: [812.3, -455.5, 77.7] }), example(name));
  });
});

describe('the frame of the weldment shifted, and its place shifted back', () => {
  it('proves the same', () => {
    fc.assert(
      fc.property(anyStand(), anyShift(), (sizes, shift) =>
        same(frameShifted(stand(sizes), shift), stand(sizes)),
      ),
      runs(3),
    );
  });
});

describe('parts and grippers under other names and in another order', () => {
  it('prove the same numbers of regrips and tool changes', () => {
    fc.assert(
      fc.property(anyStand(), anyLetters(), (sizes, letters) =>
        same(renamed(stand(sizes), namesFor(stand(sizes), letters)), stand(sizes), COUNTS),
      ),
      runs(3),
    );
  });

  it('prove the same time', () => {
    const files = stand({ height: 200, aside: 90, extras: ['gusset'] });
    same(renamed(files, namesFor(files, ['a', 'b', 'c'])), files);
  });

  it.each(EXAMPLES)('prove the same numbers of regrips and tool changes for %s', (name) => {
    same(renamed(example(name), namesFor(example(name), LETTERS)), example(name), COUNTS);
  });
});
