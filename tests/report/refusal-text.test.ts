import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { tally } from '../../src/report/inspect-cell.js';
import { missBy, refusalText, refusalTitle } from '../../src/report/refusal-text.js';

const SOURCE = join(import.meta.dirname, '../../src');

/** Every refusal code that facts, stages and tacks give, as written in their source. */
function codesInSource(): string[] {
  const facts = readdirSync(join(SOURCE, 'facts')).map((file) => join(SOURCE, 'facts', file));
  const planning = ['holding', 'tack-layout', 'complete'].map((name) =>
    join(SOURCE, 'planning', `${name}.ts`),
  );
  const text = [...facts, ...planning].map((file) => readFileSync(file, 'utf8')).join('\n');
  const literal = [...text.matchAll(/(?:code: |refused\()'([a-z-]+)'/g)].map((match) => match[1]!);
  return [...literal, 'reach-too-far', 'reach-too-close', 'joint-5-limit', 'joint-4-jump'];
}

describe('refusalText', () => {
  it.each([
    [
      { code: 'payload', subjects: ['lid', 'handler'], value: 21.4, limit: 16, unit: 'kg' },
      'lid, handler: payload: gripper and part 21.4 kg, limit 16 kg',
    ],
    [
      {
        code: 'joint-5-limit',
        subjects: ['web', 'handler', 'place', '-z'],
        value: 131.25,
        limit: 125,
        unit: 'deg',
      },
      'web, handler, place, -z: joint 5 beyond its limit: angle 131.3 deg, limit 125 deg',
    ],
    [
      { code: 'reach-too-far', subjects: ['web'], value: 80, limit: 0, unit: 'mm' },
      'web: out of reach: too far by 80 mm, limit 0 mm',
    ],
    [
      { code: 'joint-4-jump', subjects: ['web'], value: 170, unit: 'deg' },
      'web: joint 4 jumps on a straight stroke: by 170 deg',
    ],
    [
      { code: 'grip-slips', subjects: ['lid', 'wide', '+x'], value: 1.1999, limit: 1.2, unit: 'reserve' },
      'lid, wide, +x: grip does not carry the weight: reserve 1.19, limit 1.2',
    ],
    [
      { code: 'wrist-moment', subjects: ['lid'], value: 61234.56, limit: 60000, unit: 'N·mm' },
      'lid: wrist moment: moment about the wrist 61,234.6 N·mm, limit 60,000 N·mm',
    ],
    [
      { code: 'seam-not-coverable', subjects: ['J1.1', 'base', 'web'], value: 1, unit: 'sites open' },
      'J1.1, base, web: seam cannot be tacked by the rules: sites open 1',
    ],
    [
      {
        ...{ code: 'seam-not-coverable', subjects: ['J1.1', 'base', 'web'], value: 3, unit: 'sites open' },
        counts: { sites: 9, from: 20, to: 72.5 },
        nearest: { code: 'torch-blocked', subjects: ['J1', 'J1.1', 'cheek-left', 'the table'] },
      },
      'J1.1, base, web: seam cannot be tacked by the rules: sites open 3 of 9, from 20 to 72.5 mm; against the others: torch meets cheek-left and the table',
    ],
    [
      {
        ...{ code: 'seam-not-coverable', subjects: ['J1.1', 'base', 'web'], value: 0, unit: 'sites open' },
        counts: { sites: 9 },
        nearest: { code: 'position-not-allowed', subjects: ['J1', 'J1.1', 'PF', 'PG'] },
      },
      'J1.1, base, web: seam cannot be tacked by the rules: sites open 0 of 9; against the others: welding position PF or PG is not allowed',
    ],
    [{ code: 'torch-neck', subjects: [] }, 'neck of the torch hits a part, the table or a keep-out'],
    [{ code: 'new-code', subjects: ['lid'], value: 3, unit: 'kg' }, 'lid: new-code: 3 kg'],
    [{ code: 'constructor', subjects: ['lid\u001b[0m'] }, 'lid\\u001b[0m: constructor'],
  ])('%#: %j', (refusal, text) => {
    expect(refusalText(refusal)).toBe(text);
  });

  it('has words for every code in the source', () => {
    const codes = codesInSource();
    expect(codes.length).toBeGreaterThan(12);
    expect(codes).toContain('cannot-be-secured');
    // The only one whose code is already the word.
    expect([...new Set(codes.filter((code) => refusalTitle(code) === code))]).toEqual(['payload']);
  });
});

describe('tally', () => {
  const slips = (value: number) => ({
    code: 'grip-slips',
    subjects: ['lid'],
    value,
    limit: 1.2,
    unit: 'reserve',
  });
  const heavy = { code: 'payload', subjects: ['lid'], value: 20, limit: 16, unit: 'kg' };

  it('counts by reason and keeps the nearest miss of each', () => {
    expect(tally([undefined, heavy, slips(0.4), undefined, slips(1.1), slips(0.9)])).toEqual({
      considered: 6,
      usable: 2,
      refused: [
        { code: 'grip-slips', count: 3, nearest: slips(1.1) },
        { code: 'payload', count: 1, nearest: heavy },
      ],
    });
  });

  it('knows by how much a candidate missed', () => {
    expect(missBy(heavy)).toBe(4);
    expect(missBy({ code: 'torch-neck', subjects: [] })).toBeUndefined();
  });
});
