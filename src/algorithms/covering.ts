import * as solverPackage from 'javascript-lp-solver';

/** Take at least `atLeast` and at most `atMost` of the members (numbers of items, each named once). */
export interface Choice {
  readonly members: readonly number[];
  readonly atLeast?: number | undefined;
  readonly atMost?: number | undefined;
}

/** Which items to take so that every choice is respected and the whole costs least. */
export interface CoveringProgram {
  /** Whole numbers of at least zero, one an item, each at most a million. */
  readonly costs: readonly number[];
  readonly choices: readonly Choice[];
}

/** `failed`: no trustworthy answer was found; it says nothing about the program. */
export type CoveringOutcome =
  | { readonly status: 'optimal'; readonly cost: number; readonly chosen: readonly number[] }
  | { readonly status: 'infeasible' }
  | { readonly status: 'failed'; readonly why: string };

const GREATEST_COST = 1e6;
/** Steps of the second opinion; programs of tens of items need thousands. */
const STEP_LIMIT = 500_000;

/**
 * Solves a small 0/1 covering program by branch and bound over linear relaxations (javascript-lp-solver), each part that
 * shares no choice with the others by itself. A chosen set is put into every choice, and an "infeasible" is confirmed by
 * enumeration, before either is given; the enumeration of a part ends after `patience` steps. The same program gives the
 * same answer. Meant for the tens of sites of one joint; larger programs belong to HiGHS.
 */
export function cover(program: CoveringProgram, patience = STEP_LIMIT): CoveringOutcome {
  const unsound = unsoundness(program);
  if (unsound !== undefined) return { status: 'failed', why: unsound };
  let cost = 0;
  const chosen: number[] = [];
  for (const { items, part } of partsOf(program)) {
    const outcome = coverPart(part, patience);
    if (outcome.status !== 'optimal') return outcome;
    cost += outcome.cost;
    chosen.push(...outcome.chosen.map((item) => items[item]!));
  }
  return { status: 'optimal', cost, chosen: chosen.sort((a, b) => a - b) };
}

function coverPart(program: CoveringProgram, patience: number): CoveringOutcome {
  const chosen = ask(program);
  if (chosen === undefined || !program.choices.every((choice) => respected(choice, chosen)))
    return new Enumeration(program, patience).run();
  return { status: 'optimal', cost: costOf(program, chosen), chosen };
}

/** The program in parts that share no choice, each with the numbers that its items have in the whole. */
function partsOf({ costs, choices }: CoveringProgram): {
  readonly items: readonly number[];
  readonly part: CoveringProgram;
}[] {
  const leader = costs.map((_, item) => item);
  const lead = (item: number): number => (leader[item] === item ? item : lead(leader[item]!));
  for (const { members } of choices)
    for (const member of members) {
      const [p, q] = [lead(members[0]!), lead(member)];
      leader[Math.max(p, q)] = Math.min(p, q);
    }
  const leads = costs.map((_, item) => lead(item));
  // A choice among nothing can still be impossible.
  const empty = choices.filter(({ members }) => members.length === 0);
  const heads = leads.flatMap((head, item) => (head === item ? [item] : []));
  const parts = heads.map((head) => {
    const items = leads.flatMap((one, item) => (one === head ? [item] : []));
    const number = new Map(items.map((item, i) => [item, i]));
    const own = choices
      .filter(({ members }) => members.length > 0 && leads[members[0]!] === head)
      .map((choice) => ({ ...choice, members: choice.members.map((member) => number.get(member)!) }));
    return { items, part: { costs: items.map((item) => costs[item]!), choices: own } };
  });
  return empty.length === 0 ? parts : [{ items: [], part: { costs: [], choices: empty } }, ...parts];
}

/** Whether the chosen items keep to a choice. */
export function respected(choice: Choice, chosen: readonly number[]): boolean {
  const members = new Set(choice.members);
  const count = chosen.filter((item) => members.has(item)).length;
  return count >= (choice.atLeast ?? 0) && count <= (choice.atMost ?? Infinity);
}

const costOf = (program: CoveringProgram, chosen: readonly number[]): number =>
  chosen.reduce((sum, item) => sum + program.costs[item]!, 0);

function unsoundness({ costs, choices }: CoveringProgram): string | undefined {
  const cost = costs.findIndex((value) => !Number.isInteger(value) || value < 0 || value > GREATEST_COST);
  if (cost >= 0) return `cost ${costs[cost]} of item ${cost} is no whole number from 0 to ${GREATEST_COST}`;
  for (const [row, { members }] of choices.entries()) {
    const unknown = members.find((item) => costs[item] === undefined);
    if (unknown !== undefined)
      return `choice ${row} names item ${unknown}, but there are ${costs.length} items`;
    if (new Set(members).size < members.length) return `choice ${row} names an item twice`;
  }
  return undefined;
}

/** The solver's answer, or undefined when it has none. */
function ask({ costs, choices }: CoveringProgram): number[] | undefined {
  const solver = solverPackage.default as unknown as typeof solverPackage.default.default;
  const constraints: Record<string, { min?: number; max?: number }> = {};
  const rows = costs.map((cost): Record<string, number> => ({ cost }));
  choices.forEach(({ members, atLeast, atMost }, row) => {
    if (atLeast === undefined && atMost === undefined) return;
    constraints[`row${row}`] = {
      ...(atLeast === undefined ? {} : { min: atLeast }),
      ...(atMost === undefined ? {} : { max: atMost }),
    };
    for (const item of members) rows[item]![`row${row}`] = 1;
  });
  const answer = solver.Solve({
    optimize: 'cost',
    opType: 'min',
    constraints,
    variables: Object.fromEntries(rows.map((row, item) => [`x${item}`, row])),
    binaries: Object.fromEntries(costs.map((_, item) => [`x${item}`, 1 as const])),
    options: { presolve: false },
  }) as Record<string, number | boolean | undefined>;
  if (answer['feasible'] !== true) return undefined;
  return costs.flatMap((_, item) => (Number(answer[`x${item}`] ?? 0) > 0.5 ? [item] : []));
}

/** The second opinion: depth-first over the items of the tightest choice that still lacks some. */
class Enumeration {
  private readonly taken: (boolean | undefined)[];
  private best: readonly number[] | undefined;
  private bestCost = Infinity;
  private steps = 0;

  constructor(
    private readonly program: CoveringProgram,
    private readonly patience: number,
  ) {
    this.taken = program.costs.map(() => undefined);
  }

  run(): CoveringOutcome {
    this.descend(0);
    if (this.steps > this.patience)
      return { status: 'failed', why: `undecided after ${this.patience} steps` };
    if (this.best === undefined) return { status: 'infeasible' };
    return { status: 'optimal', cost: this.bestCost, chosen: this.best };
  }

  private descend(cost: number): void {
    this.steps += 1;
    if (this.steps > this.patience || cost >= this.bestCost) return;
    const needy = this.tightest();
    if (needy === 'broken') return;
    if (needy === undefined) {
      this.bestCost = cost;
      this.best = this.taken.flatMap((taken, item) => (taken === true ? [item] : []));
      return;
    }
    const item = needy.members.find((member) => this.taken[member] === undefined)!;
    this.taken[item] = true;
    this.descend(cost + this.program.costs[item]!);
    this.taken[item] = false;
    this.descend(cost);
    this.taken[item] = undefined;
  }

  /** The choice that lacks members and has fewest to spare; `broken` when one can no longer be respected. */
  private tightest(): Choice | 'broken' | undefined {
    let found: Choice | undefined;
    let least = Infinity;
    for (const choice of this.program.choices) {
      let [taken, open] = [0, 0];
      for (const item of choice.members) {
        const has = this.taken[item];
        if (has === true) taken += 1;
        else if (has === undefined) open += 1;
      }
      const lacking = (choice.atLeast ?? 0) - taken;
      if (taken > (choice.atMost ?? Infinity) || open < lacking) return 'broken';
      if (lacking > 0 && open - lacking < least) [found, least] = [choice, open - lacking];
    }
    return found;
  }
}
