import { rounded } from '../../base/order.js';
import type { GeometricPlan, Plan } from '../../model/plan.js';
import type { Wish } from '../../model/wish.js';
import { everyTack } from '../../rules/stage-tacks.js';
import { tackMiddle } from '../../rules/wishes-true.js';
import type { Question } from './question.js';

/** What a plan has where a question asks. */
export type Has =
  | {
      readonly of: 'before';
      readonly first: string;
      readonly second: string;
      readonly stages: readonly [number, number];
    }
  | {
      readonly of: 'grip';
      readonly part: string;
      /** Null: any will do, or a person sets the part. */
      readonly gripper: string | null;
      readonly byHand?: true;
      /** Of a plan with shapes. */
      readonly robot?: string;
      readonly face?: string;
      readonly position?: readonly [number, number];
    }
  | { readonly of: 'regrip'; readonly part: string; readonly regrips: number }
  | {
      readonly of: 'tack';
      readonly tack: string;
      readonly between: readonly [string, string];
      readonly stage: number;
    }
  | {
      readonly of: 'hold';
      readonly stage: number;
      readonly part: string;
      readonly held: string | null;
      /** An earlier part that a robot holds in that stage. */
      readonly other?: { readonly part: string; readonly robot: string };
    }
  | { readonly of: 'not-first'; readonly part: string; readonly stage: number; readonly first: string };

/** A question about a plan as the wish for the opposite, or why it cannot be asked. */
export type Asked =
  /** `wish` is hard: a plan that keeps it has it otherwise. */
  | { readonly kind: 'opposite'; readonly has: Has; readonly wish: Wish }
  /** The plan does not have what is asked about. */
  | { readonly kind: 'not-so'; readonly has: Has }
  /** The plan has no such part, tack or stage. */
  | {
      readonly kind: 'unknown';
      readonly what: 'part' | 'tack' | 'stage';
      readonly name: string;
      readonly known: readonly string[];
    }
  /** Parts without shapes have no tacks at places and no holds. */
  | { readonly kind: 'no-shapes'; readonly what: 'tacks' | 'holds' };

const HARD = { soft: false, weight: 1 } as const;
const NEVER = { ...HARD, never: true } as const;
const PINNED = { ...HARD, never: false } as const;

/** How far from its place a tack that is asked away must stay, mm: as far as a wish for one reaches. */
const AWAY = 10;

/** What the plan has where the question asks, and the wish that it were otherwise. */
export function askedOf(plan: Plan, question: Question): Asked {
  const parts = plan.stages.map(({ part }) => part);
  const unknown = namesIn(question).find((name) => !parts.includes(name));
  if (unknown !== undefined) return { kind: 'unknown', what: 'part', name: unknown, known: parts };
  switch (question.ask) {
    case 'before':
      return before(parts, question.first, question.second);
    case 'not-first':
      return notFirst(parts, question.part);
    case 'regrip':
      return regrip(plan, question.part);
    case 'grip':
      return grip(plan, question.part);
    case 'hold':
      return plan.kind === 'abstract' ? { kind: 'no-shapes', what: 'holds' } : hold(plan, question.stage);
    case 'tack':
      return plan.kind === 'abstract' ? { kind: 'no-shapes', what: 'tacks' } : tack(plan, question.tack);
  }
}

function namesIn(question: Question): readonly string[] {
  if (question.ask === 'before') return [question.first, question.second];
  return 'part' in question ? [question.part] : [];
}

function before(parts: readonly string[], first: string, second: string): Asked {
  const stages = [parts.indexOf(first) + 1, parts.indexOf(second) + 1] as const;
  const has: Has = { of: 'before', first, second, stages };
  if (stages[0] >= stages[1]) return { kind: 'not-so', has };
  return { kind: 'opposite', has, wish: { before: [second, first], ...PINNED } };
}

function notFirst(parts: readonly string[], part: string): Asked {
  const has: Has = { of: 'not-first', part, stage: parts.indexOf(part) + 1, first: parts[0]! };
  if (parts[0] === part) return { kind: 'not-so', has };
  return { kind: 'opposite', has, wish: { first: part, ...PINNED } };
}

function regrip(plan: Plan, part: string): Asked {
  const stage = plan.stages.find((one) => one.part === part)!;
  const regrips = 'handling' in stage ? Math.max(0, stage.handling.length - 1) : stage.regrips;
  const has: Has = { of: 'regrip', part, regrips };
  if (regrips === 0) return { kind: 'not-so', has };
  return { kind: 'opposite', has, wish: { regrips: part, most: regrips - 1, ...PINNED } };
}

function grip(plan: Plan, part: string): Asked {
  const stage = plan.stages.find((one) => one.part === part)!;
  if (!('handling' in stage)) {
    const has: Has = { of: 'grip', part, gripper: stage.gripper };
    if (stage.gripper === null) return { kind: 'not-so', has };
    return { kind: 'opposite', has, wish: { grip: part, gripper: stage.gripper, ...NEVER } };
  }
  const last = stage.handling.at(-1)?.grip;
  if (last === undefined || stage.robot === null)
    return { kind: 'not-so', has: { of: 'grip', part, gripper: null, byHand: true } };
  const { gripper, face, position } = last;
  const used = { gripper, face, position, robot: stage.robot };
  return { kind: 'opposite', has: { of: 'grip', part, ...used }, wish: { grip: part, ...used, ...NEVER } };
}

function hold(plan: GeometricPlan, name: string): Asked {
  const stage = plan.stages.find(({ number, part }) => String(number) === name || part === name);
  if (stage === undefined) {
    const known = plan.stages.flatMap(({ number, part }) => [String(number), part]);
    return { kind: 'unknown', what: 'stage', name, known };
  }
  const { number, part, held, alsoHeld } = stage;
  const other = alsoHeld && { part: alsoHeld.part, robot: alsoHeld.robot };
  const has: Has = { of: 'hold', stage: number, part, held, ...(other && { other }) };
  return held === null ? { kind: 'not-so', has } : { kind: 'opposite', has, wish: { held: part, ...NEVER } };
}

function tack(plan: GeometricPlan, id: string): Asked {
  const laid = plan.stages.flatMap((stage) => everyTack(stage).map((one) => ({ one, stage: stage.number })));
  const found = laid.find(({ one }) => one.id === id);
  if (found === undefined)
    return { kind: 'unknown', what: 'tack', name: id, known: laid.map(({ one }) => one.id) };
  const { joint, seam, start, length } = found.one;
  const { between, seams } = plan.joints.find((one) => one.id === joint)!;
  const middle = tackMiddle(
    seams.find((one) => one.id === seam)!,
    start,
    length,
  );
  const near = middle.map((x) => rounded(x, 3)) as [number, number, number];
  return {
    kind: 'opposite',
    has: { of: 'tack', tack: id, between, stage: found.stage },
    wish: { tack: between, near, within: AWAY, ...NEVER },
  };
}
