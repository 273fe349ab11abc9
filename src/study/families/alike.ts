import type { Structure, StructurePart } from './structure.js';

/** Parts that can stand for one another. */
export interface AlikeGroup {
  readonly name: string;
  readonly members: readonly StructurePart[];
}

/** The groups of a structure, each at the place of its first part. */
export function alikeGroups({ parts }: Structure): readonly AlikeGroup[] {
  const groups = new Map<string, StructurePart[]>();
  for (const part of parts) {
    const group = groups.get(part.alike);
    if (group === undefined) groups.set(part.alike, [part]);
    else group.push(part);
  }
  return [...groups].map(([name, members]) => ({ name, members }));
}
