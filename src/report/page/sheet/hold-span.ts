import type { GeometricPlan, Step } from '../../../model/plan.js';
import { duration, nearestTenths } from '../../numbers.js';
import { plain } from '../../plain.js';

const at = (seconds: number): string => duration(nearestTenths(seconds));

/** From when to when a robot holds a part for a stage, and what it waits for before it lets go; empty where its program does not say. */
export function holdSpanText({ programs, handshakes }: GeometricPlan, hold: HeldPart, stage: number): string {
  const steps = programs.find(({ robot }) => robot === hold.robot)?.steps ?? [];
  const end = steps.findIndex((step) => isOf(step, 'let-go', hold.part) && step.stage >= stage);
  const start = steps.slice(0, end).findLastIndex((step) => isOf(step, 'hold', hold.part));
  if (end < 0 || start < 0) return '';
  const awaited = steps.slice(start, end).findLast((step) => step.do === 'await');
  const signal =
    awaited?.do === 'await' ? handshakes.find(({ id }) => id === awaited.handshake)?.name : undefined;
  const after = signal === undefined ? '' : `, not before ${plain(signal)}`;
  const [from, to] = [steps[start]!, steps[end]!];
  return `from ${at(from.start)} (step ${from.n}) until ${at(to.start)} (step ${to.n}${after})`;
}

/** A part and the robot that holds it. */
export interface HeldPart {
  readonly part: string;
  readonly robot: string;
}

const isOf = (step: Step, kind: 'hold' | 'let-go', part: string): boolean =>
  step.do === kind && step.part === part;
