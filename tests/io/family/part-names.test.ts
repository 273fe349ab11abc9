import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { NAMING } from '../../../src/io/family/part-names.js';
import { weldmentFileSchema } from '../../../src/model/weldment.js';
import { wishSchema } from '../../../src/model/wish.js';

describe('where a weldment names parts', () => {
  it('is known of every list at its top', () => {
    const { properties } = z.toJSONSchema(weldmentFileSchema, { io: 'input' });
    const lists = Object.entries(properties!).flatMap(([key, schema]) =>
      JSON.stringify(schema).includes('"type":"array"') && key !== 'parts' ? [key] : [],
    );
    expect(lists).toEqual(expect.arrayContaining(['joints', 'needs', 'wishes']));
    expect(Object.keys(NAMING)).toEqual(expect.arrayContaining(lists));
  });

  it('is known of every word of a wish', () => {
    const words = wishSchema.options.map(({ shape }) => Object.keys(shape)[0]!);
    const { singles, pairs } = NAMING['wishes']!;
    expect([...singles!, ...pairs!].sort()).toEqual([...words].sort());
  });
});
