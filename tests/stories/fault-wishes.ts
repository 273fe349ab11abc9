import type { GeometricPlan } from '../../src/model/plan.js';
import type { Planned } from './expectation.js';

const STATES = ['station', 'with-person', 'held', 'standing', 'drop-zone'] as const;

const same = (what: string, got: unknown, wanted: unknown): string[] => {
  const [a, b] = [got, wanted].map((value) => JSON.stringify(value));
  return a === b ? [] : [`${what}: got ${a}; expected ${b}`];
};

/** How many tacks of a part have another site, and a step in the programs that goes there. */
function repeatedTacks({ stages, programs }: GeometricPlan, part: string): number {
  const rework = stages.find((stage) => stage.part === part)?.rework ?? [];
  const steps = programs.flatMap((program) => program.steps);
  return rework.filter(({ instead, tack }) =>
    steps.some(
      (step) =>
        step.do === 'accept' &&
        step.tack === instead &&
        step.rework.some((one) => one.do === 'tack' && one.tack === tack?.id),
    ),
  ).length;
}

/** What differs between the faults of a plan and those that a story expects. */
export function faultDifferences(plan: GeometricPlan, expected: Planned): string[] {
  const { faults, dropZones } = plan.safety;
  return [
    ...Object.entries(expected.faults ?? {}).flatMap(([kind, wanted]) => {
      const own = faults.filter(({ fault }) => fault === kind);
      const found = STATES.filter((state) => own.some(({ ends }) => ends.some((end) => end.state === state)));
      const times = own.reduce((sum, { rows }) => sum + rows, 0);
      return [
        ...same(
          `ends of ${kind}`,
          found,
          STATES.filter((state) => wanted?.ends.includes(state)),
        ),
        ...(wanted?.times === undefined ? [] : same(`rows of ${kind}`, times, wanted.times)),
      ];
    }),
    ...(expected['drop-zones']
      ? same(
          'drop zones',
          [...new Set(dropZones.map(({ part }) => part))].sort(),
          [...expected['drop-zones']].sort(),
        )
      : []),
    ...Object.entries(expected.repeated ?? {}).flatMap(([part, count]) =>
      same(`repeated tacks of ${part}`, repeatedTacks(plan, part), count),
    ),
  ];
}
