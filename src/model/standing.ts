import { PRESSED_SLOPE } from '../mechanics/gravity-friction.js';
import { normalInto, type Scene } from './scene.js';

/** What a part stands on by bearing alone: faces below it that push it up at 30 degrees or more. */
export interface Footing {
  readonly table: boolean;
  /** Indices, lowest first. */
  readonly parts: readonly number[];
}

/** On what a part rests among the parts in place, tacks and holds aside. Whether that carries it is for statics to say. */
export function footingOf(scene: Scene, part: number, isInPlace: (other: number) => boolean): Footing {
  const parts = scene.contacts.flatMap((contact) => {
    const { a, b, bearing } = contact;
    const other = a === part ? b : a;
    if ((a !== part && b !== part) || !isInPlace(other)) return [];
    return bearing.some(({ normal }) => normalInto(contact, part, normal)[2] >= PRESSED_SLOPE) ? [other] : [];
  });
  return { table: scene.tableBearing[part]!.length > 0, parts: parts.sort((p, q) => p - q) };
}

export const hasFooting = ({ table, parts }: Footing): boolean => table || parts.length > 0;
