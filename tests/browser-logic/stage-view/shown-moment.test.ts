import { describe, expect, it } from 'vitest';
import { FIRST_LOOK } from '../../../src/browser/stage-view/look.js';
import { Moments } from '../../../src/browser/stage-view/moment/shown-moment.js';
import { SAMPLE } from './page-sample.js';

const moments = new Moments(SAMPLE);
const at = (time: number, look = {}) => moments.at(time, { ...FIRST_LOOK, ...look });

describe('a moment', () => {
  it('has a carried part where the flange takes it: up the arm by its lengths, and what it holds beyond', () => {
    expect(at(4).parts[0]!.pose!.at).toEqual([0, 0, 300 + 200 + 100 + 50 + 10]);
  });

  it('has parts nowhere before they are anywhere, then waiting, joining and joined', () => {
    expect(at(1).parts[1]!.pose).toBeUndefined();
    expect(at(5).parts.map(({ role }) => role)).toEqual(['newcomer', 'waiting']);
    expect(at(14).parts.map(({ role }) => role)).toEqual(['joined', 'newcomer']);
  });

  it('has tacks of its stage that come later, the one being laid and those that lie', () => {
    expect(at(8).tacks).toEqual([]);
    expect([14, 15.5, 17, 19].map((time) => at(time).tacks.map(({ state }) => state))).toEqual([
      ['later', 'later'],
      ['now', 'later'],
      ['laid', 'now'],
      ['laid', 'laid'],
    ]);
  });

  it('has the arrow before the newcomer, along its way', () => {
    const { arrow } = at(14);
    expect(arrow?.direction).toEqual([0, 0, -1]);
    // The rib reaches from 5 to 15 mm; the arrow ends above it.
    expect(arrow!.from[2] - arrow!.distance).toBeGreaterThan(15);
  });

  it('moves parts by the last prediction for each, as many times as is asked', () => {
    expect(at(19, { factor: 50 }).parts[0]!.pose!.at).toEqual([0, 10, 0]);
    const rib = at(17, { factor: 50 }).parts[1]!.pose!;
    expect(rib.at.map((v) => Math.round(v * 1e6) / 1e6)).toEqual([5, 0, 10]);
    expect(Math.atan2(rib.turn[3], rib.turn[0])).toBeCloseTo(0.05, 9);
    expect(at(15, { factor: 50 }).parts[1]!.pose!.at).toEqual([0, 0, 10]);
  });

  it('pulls parts apart, the first staying where it is, and tacks with the part they came with', () => {
    const { parts, tacks } = at(19, { exploded: 1 });
    expect(parts[0]!.pose!.at).toEqual([0, 0, 0]);
    expect(parts[1]!.pose!.at[2]).toBeGreaterThan(15);
    expect(tacks[0]!.moved.at[2]).toBeCloseTo(parts[1]!.pose!.at[2] - 10, 9);
    expect(at(19, { exploded: 0.5, explodeWay: 'base' }).parts[1]!.pose!.at).toEqual([0, 0, 15]);
  });
});
