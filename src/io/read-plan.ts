import type { Plan } from '../model/plan.js';
import { planSchema } from '../model/plan.js';
import type { Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';

const judgePlan = judgeBy(
  planSchema,
  () => [],
  (file): Plan => file,
);

/**
 * Reads a plan, made here, elsewhere or by hand. Only its form is judged; whether it is legal for a weldment and a
 * cell is for the rules.
 */
export const readPlan = (text: string, file: string): Reading<Plan> => readBy(text, file, judgePlan, 'plan');
