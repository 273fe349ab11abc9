import type { Facts } from '../facts/facts.js';
import { turnSeconds } from '../model/table-turn.js';
import type { Handler } from '../model/cell.js';
import { ByHand } from './by-hand.js';
import { Holdings } from './holding.js';
import { KeptHolds } from './kept-hold.js';

/** All that the order search asks about the weldment with the work table at one index angle. */
export interface AtAngle {
  readonly facts: Facts;
  readonly holdings: Holdings;
  readonly keptHolds: KeptHolds;
  readonly byHand: ByHand;
}

/** Every index angle, in ascending order; one where the table stands still. */
export const everyAngle = (facts: Facts): readonly AtAngle[] =>
  facts.everyAngle.map((at) => ({
    facts: at,
    holdings: new Holdings(at),
    keptHolds: new KeptHolds(at),
    byHand: new ByHand(at),
  }));

/** A part that comes to a table that may turn first. */
export interface Turning {
  /** When it may be brought, milliseconds after the end of the stage before. */
  readonly brought: number;
  /** For how many a handling robot that turned the table, if another one brings, is free by then. */
  readonly since: ReadonlyMap<Handler, number>;
}

/**
 * The earliest moment at which a part may be brought: once it is fetched, `fetched`, the last completing tacks are
 * laid, `pending`, and the table has turned, where it does. The welder turns it after its tacks; a handling robot after
 * what it has fetched, or, while another fetches, after the tacks.
 */
export function broughtAfter(
  { scene }: Facts,
  bringer: Handler,
  turn: { readonly from: number | undefined; readonly to: number },
  fetched: number,
  pending: number,
): Turning {
  const { table, handlers } = scene.cell;
  const { turntable } = table;
  const still = { brought: Math.max(fetched, pending), since: new Map<Handler, number>() };
  if (turntable === undefined || turn.from === undefined || turn.from === turn.to) return still;
  const takes = Math.round(1000 * turnSeconds(turntable, turn.from, turn.to));
  if (turntable.commander === bringer.id) return { ...still, brought: still.brought + takes };
  const turned = pending + takes;
  const brought = Math.max(fetched, turned);
  const commander = handlers.find(({ id }) => id === turntable.commander);
  return { brought, since: new Map(commander ? [[commander, brought - turned]] : []) };
}
