import { describe, expect, it } from 'vitest';
import { namesOf } from '../../../src/session/sub-assemblies/names.js';

describe('names of proposed groups', () => {
  it('are made of the names of their parts', () => {
    expect(namesOf([['post', 'lug']], ['base', 'post', 'lug'])).toEqual(['post-lug']);
  });

  it('are cut where they would be long', () => {
    const [name] = namesOf([['a'.repeat(60), 'b', 'c']], []);
    expect(name).toBe(`${'a'.repeat(30)}-and-2`);
  });

  it('never are the name of a part, and differ from one another', () => {
    const names = namesOf(
      [
        ['a', 'b-c'],
        ['a-b', 'c'],
        ['x', 'y'],
      ],
      ['a-b-c', 'x'],
    );
    expect(new Set(['a-b-c', 'x', ...names]).size).toBe(5);
    expect(names[2]).toBe('x-y');
  });
});
