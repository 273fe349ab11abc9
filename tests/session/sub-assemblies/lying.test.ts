import { describe, expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../src/model/settings.js';
import type { Weldment } from '../../../src/model/weldment.js';
import { lyingRests } from '../../../src/session/sub-assemblies/lying.js';
import { inputsOf, story } from '../../support/planned.js';

const weldment = inputsOf(story('lower-seam-is-reached-apart')).weldment as Weldment;
const bracket = { name: 'bracket', parts: ['post', 'lug'] };

describe('the rests of a sub-assembly', () => {
  it('are faces of its parts that lie on the table, the lowest first', () => {
    const rests = lyingRests(weldment, bracket, DEFAULT_SETTINGS);
    // The post on its back, with the lug on top, is lowest; on its front the lug is in the way.
    expect(rests[0]).toBe('post/-z');
    expect(rests).not.toContain('post/+z');
    // On lug and post at once it lies on edges alone: no part of it could be the first.
    expect(rests.filter((rest) => rest.startsWith('toes'))).toEqual([]);
  });

  it('is the one that is asked for', () => {
    expect(lyingRests(weldment, { ...bracket, rest: 'toes-2' }, DEFAULT_SETTINGS)).toEqual(['toes-2']);
  });
});
