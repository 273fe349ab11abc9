import { describe, expect, it } from 'vitest';
import { readSettings } from '../../src/io/read-settings.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { endMargin, largestPitch, leastLength } from '../../src/model/tack-settings.js';
import { told } from '../io/told.js';

const { tacks } = DEFAULT_SETTINGS;

describe('rules of tacks', () => {
  // EN 1090-2 7.5.7 (from memory) and EN 1011-2 clause 13 as published: they differ at 12.0 mm (check-values section 1).
  it('are chosen by name, or are your own', () => {
    const least = (rule: 'en1090' | 'en1011') =>
      [3, 8, 12, 20].map((t) => leastLength({ ...tacks, rule }, t));
    expect(least('en1090')).toEqual([12, 32, 48, 50]);
    expect(least('en1011')).toEqual([12, 32, 50, 50]);
    expect(leastLength({ ...tacks, rule: 'own', 'least-length': 25 }, 20)).toBe(25);
  });

  it('own needs its length, and no other takes one', () => {
    expect(readSettings('tacks: { rule: own, least-length: 25 }', 's').value?.tacks['least-length']).toBe(25);
    expect(told(readSettings('tacks: { rule: own }', 's.yaml'))).toMatchInlineSnapshot(`
      [
        "s.yaml:1: tacks.least-length: is missing; add it, a number (least length of a tack by your own rule, mm; with \`rule: own\`, and only with it)",
      ]
    `);
    expect(told(readSettings('tacks: { least-length: 25 }', 's.yaml'))).toMatchInlineSnapshot(`
      [
        "s.yaml:1: tacks.least-length: got 25, which is given with \`rule: en1090\`; write \`rule: own\` or leave it out; give least length of a tack by your own rule, mm; with \`rule: own\`, and only with it",
      ]
    `);
    expect(told(readSettings('tacks: { rule: own, least-length: -1 }', 's.yaml'))).toMatchInlineSnapshot(`
      [
        "s.yaml:1: tacks.least-length: got -1; give above 0 (least length of a tack by your own rule, mm; with \`rule: own\`, and only with it)",
      ]
    `);
  });

  // Common practice: 20 to 40 thicknesses, at most 300 to 500 mm; thin sheet 50 to 75 mm (check-values section 1).
  it('ask for the pitch by the thinner part', () => {
    expect([1, 2.9, 3, 5, 8, 10, 20].map((thinner) => largestPitch(tacks, thinner))).toEqual([
      75, 75, 90, 150, 240, 300, 300,
    ]);
    expect(largestPitch({ ...tacks, 'thin-below': 0 }, 2)).toBe(60);
  });

  it('keep the largest of three distances at the ends of a seam', () => {
    expect(endMargin(tacks)).toBe(10);
    expect(endMargin({ ...tacks, 'weld-ends': 25 })).toBe(25);
    expect(endMargin({ ...tacks, 'corner-distance': 15 })).toBe(15);
    expect(endMargin({ ...tacks, 'end-distance': 0 })).toBe(10);
  });
});
