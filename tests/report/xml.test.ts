import { describe, expect, it } from 'vitest';
import { readXml } from './xml.js';

describe('the reader of the tests', () => {
  it('reads names, attributes and text', () => {
    const root = readXml('<svg a="1 &lt; 2"><text x="3">R&amp;D</text><g/></svg>');
    expect(root.attributes.get('a')).toBe('1 < 2');
    expect(root.children.map(({ name }) => name)).toEqual(['text', 'g']);
    expect(root.children[0]!.text).toBe('R&D');
  });

  it.each([
    '<svg><text></svg>',
    '<svg>a & b</svg>',
    '<svg>&nbsp;</svg>',
    '<svg a="1" a="2"/>',
    '<svg/><svg/>',
    '<svg a="<b>"/>',
    '<svg>\u0007</svg>',
    '<svg>1 < 2</svg>',
  ])('refuses %j', (document) => {
    expect(() => readXml(document)).toThrow();
  });
});
