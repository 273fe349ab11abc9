import type { GeometricPlan, Stage, Step } from '../../src/model/plan.js';

type Arc = Extract<Step, { do: 'tack' }>;

/** The welding robots that lay tacks of a stage, in the order of the programs. */
const tackers = ({ programs }: GeometricPlan, tacks: Stage['tacks']): readonly string[] =>
  programs.flatMap(({ robot }) => (tacks.some((tack) => tack.robot === robot) ? [robot] : []));

/** What differs from the welding robots that shall lay the tacks of a part. */
export function tackedBy(
  plan: GeometricPlan,
  { part, tacks }: Stage,
  wanted: Readonly<Record<string, string>>,
): string[] {
  return Object.entries(wanted).flatMap(([seam, robot]) => {
    const own = tackers(
      plan,
      tacks.filter((tack) => tack.seam === seam),
    );
    return own.join() === robot
      ? []
      : [`seam ${seam} of ${part} is tacked by ${own.join() || 'nobody'}; expected ${robot}`];
  });
}

/** Whether these robots, and no other, lay the securing tacks of a part, an arc of each while one of every other burns. */
export function atOnce(plan: GeometricPlan, { part, tacks }: Stage, wanted: readonly string[]): string[] {
  const securing = tacks.filter(({ phase }) => phase === 'securing');
  const robots = tackers(plan, securing);
  if (robots.join() !== wanted.join())
    return [`securing tacks of ${part} are laid by ${robots.join()}; expected ${wanted.join()}`];
  const arcs = robots.map((robot) =>
    plan.programs
      .find((program) => program.robot === robot)!
      .steps.filter((step): step is Arc => step.do === 'tack' && securing.some(({ id }) => id === step.tack)),
  );
  const overlap = (a: Arc, b: Arc): boolean => Math.min(a.end, b.end) - Math.max(a.start, b.start) > 0.1;
  return arcs.flatMap((own, i) =>
    arcs
      .slice(i + 1)
      .flatMap((others, k) =>
        own.some((a) => others.some((b) => overlap(a, b)))
          ? []
          : [`no arcs of ${robots[i]!} and ${robots[i + 1 + k]!} on ${part} burn at once`],
      ),
  );
}
