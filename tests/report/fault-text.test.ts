import { describe, expect, it } from 'vitest';
import type { Fault, Safety } from '../../src/model/plan-safety.js';
import { bareStage } from '../support/bare-plan.js';
import { faultsText, faultTable, reworkText } from '../../src/report/fault-text.js';

const fault = (kind: Fault['fault'], more: Partial<Fault>): Fault => ({
  ...{ fault: kind, robot: 'handler', steps: [[3, 3]], rows: 1, situations: 4 },
  reaction: { stop: 'all', arcs: 'all-out', torch: 'stays', person: true, then: 'wait-for-person' },
  ends: [{ state: 'held', parts: ['wall'], gripper: 'wide' }],
  ...more,
});

const safety = (faults: Fault[]): Safety => ({
  ...{ properties: [], faults, dropZones: [], notCovered: 'two faults at once' },
  witness: { robots: 2, states: 0, complete: true, reduction: 'none' },
  faultRows: faults.reduce((sum, { rows }) => sum + rows, 0),
});

const some = safety([
  fault('signal-lost', { rows: 1200, situations: 3000 }),
  fault('signal-lost', {
    robot: 'welder',
    ends: [{ state: 'standing', parts: ['base'], stands: 'clamped' }],
  }),
  fault('tack-bad', {
    reaction: { stop: 'none', arcs: 'burn-on', torch: 'goes-on', person: false, then: 'repeat-tack' },
    ends: [{ state: 'drop-zone', parts: ['wall'], gripper: 'cups', while: 'carried' }],
  }),
]);

describe('what a plan says of faults', () => {
  it('is how many were executed and how they end, from the table alone', () => {
    expect(faultsText(some)).toBe(
      '1,202 single faults, each executed in every position of the other robot that the signals allow (3,008 in all): ' +
        'every part ends held, standing or in a guarded drop zone, and no arc burns on. Not covered: two faults at once.',
    );
  });

  it('names pairs of positions where there are more robots', () => {
    const more = safety([...some.faults, fault('robot-stopped', { robot: 'third' })]);
    expect(faultsText(more)).toContain('in every pair of positions of two robots that the signals allow');
  });

  it('is how many tacks can be repeated, and why others can not', () => {
    const rework = (['no-site', 'no-site', 'torch-blocked'] as const).map((none, i) => ({
      ...{ instead: `J1.1@${i}`, tack: null, none },
    }));
    expect(reworkText({ stages: [{ ...bareStage('wall', 1), rework }] })).toBe(
      '0 of 3 tacks can be repeated at another site of the seam; for the others: no room on the seam (2) and the torch gets at no other site meanwhile (1).',
    );
  });

  it('is that none was executed where there is no table', () => {
    expect(faultsText(safety([]))).toBe('none was executed. Not covered: two faults at once.');
    expect(faultTable(safety([]))).toEqual([]);
  });

  it('is a row for each kind and reaction, of all robots together', () => {
    expect(faultTable(some)).toEqual([
      'fault                   times  what is done                                  parts end',
      'a signal is lost        1,201  keep holding, stop all robots, arcs go out,   held or standing',
      '                               the torch stays, call a person',
      'a tack is reported bad      1  keep holding, repeat the tack at the stated   in a guarded drop zone',
      '                               site, go on',
    ]);
  });
});
