import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../src/io/document.js';
import { editedSources, withValueAt } from '../../../src/session/remedies/edited.js';

describe('a value at a path', () => {
  it('is replaced, added or taken out, and nothing else changes', () => {
    const before = { a: { b: [1, { c: 2 }], d: 3 }, e: 4 };
    expect(withValueAt(before, ['a', 'b', 1, 'c'], 5)).toEqual({ a: { b: [1, { c: 5 }], d: 3 }, e: 4 });
    expect(withValueAt(before, ['a', 'd'], undefined)).toEqual({ a: { b: [1, { c: 2 }] }, e: 4 });
    expect(withValueAt(before, ['f', 'g'], 6)).toEqual({ ...before, f: { g: 6 } });
    expect(withValueAt(undefined, ['f'], [1])).toEqual({ f: [1] });
    expect(before).toEqual({ a: { b: [1, { c: 2 }], d: 3 }, e: 4 });
  });

  it('keeps the order of keys, so that a file reads as before', () => {
    expect(Object.keys(withValueAt({ a: 1, b: 2, c: 3 }, ['b'], 4) as object)).toEqual(['a', 'b', 'c']);
  });
});

describe('edited sources', () => {
  const weldment = { name: 'w.yaml', text: 'weldment: x\nfirst: a\n' };
  const cell = { name: 'c.yaml', text: 'cell: y\n', beside: { 'arm.urdf': '<robot/>' } };
  const documents = {
    weldment: readDocument(weldment.text, weldment.name).document,
    cell: readDocument(cell.text, cell.name).document,
    settings: undefined,
  };

  it('have other texts only where something was edited, and keep names and the files beside', () => {
    const after = editedSources({ weldment, cell }, documents, [
      { file: 'cell', path: ['cell'], from: 'y', to: 'z' },
      { file: 'weldment', path: ['first'], from: 'a' },
    ]);
    expect(after.cell).toEqual({ ...cell, text: '{"cell":"z"}' });
    expect(after.weldment).toEqual({ ...weldment, text: '{"weldment":"x"}' });
    expect(after.settings).toBeUndefined();
  });

  it('make a settings file where there was none', () => {
    const after = editedSources({ weldment, cell }, documents, [
      { file: 'settings', path: ['grips', 'density'], from: 3, to: 5 },
    ]);
    expect(after).toMatchObject({ weldment, cell, settings: { text: '{"grips":{"density":5}}' } });
  });
});
