import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { picture, pointList, words } from '../../src/report/svg.js';
import { element } from '../../src/report/xml.js';
import { readXml, shownTexts } from './xml.js';

const HOSTILE = '</text><script>alert(1)</script> & "\' ]]> <!-- \u0000\u001b\ufffe\ud800';

describe('svg', () => {
  it('escapes whatever a name holds, in text and in attributes', () => {
    const svg = picture([10, 20], HOSTILE, 'white', [words(1, 2, HOSTILE, { 'data-name': HOSTILE })]);
    const root = readXml(svg);
    const shown = '</text><script>alert(1)</script> & "\' ]]> <!-- \\u0000\\u001b\ufffd\\ud800';
    expect(shownTexts(root)).toEqual([shown]);
    expect(root.children.map(({ name }) => name)).toEqual(['title', 'rect', 'text']);
    expect(root.children[0]!.text).toBe(shown);
    expect(root.children[2]!.attributes.get('data-name')).toBe(shown);
  });

  it('is well-formed for any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(readXml(picture([1, 1], text, text, [words(0, 0, text)])).name).toBe('svg');
      }),
    );
  });

  it('writes numbers short and leaves out what is not given', () => {
    expect(element('rect', { x: 1 / 3, y: -0.0001, fill: undefined })).toBe('<rect x="0.33" y="0"/>');
    expect(
      pointList([
        [1.005, 2],
        [3, 4.126],
      ]),
    ).toBe('1,2 3,4.13');
  });
});
