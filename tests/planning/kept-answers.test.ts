import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Completion } from '../../src/algorithms/problem.js';
import { search } from '../../src/algorithms/search.js';
import { Budget } from '../../src/base/budget.js';
import { setOf } from '../../src/base/part-set.js';
import type { Facts } from '../../src/facts/facts.js';
import { OrderCompleter, type CompleteOrder } from '../../src/planning/complete.js';
import { synchronised } from '../../src/planning/handshakes.js';
import { OrderProblem } from '../../src/planning/order-problem.js';
import { factsOf } from '../../src/planning/plan.js';
import type { Fall } from '../../src/planning/first-short.js';
import type { standingLoads } from '../../src/planning/securing.js';
import { NewcomerStatics, type Newcomer } from '../../src/planning/securing.js';
import type { RobotDraft, StageDraft } from '../../src/planning/stage-draft.js';
import { heldBy } from '../../src/planning/held-grip.js';
import type { HeldPart } from '../../src/rules/assembly.js';
import { letGoLoad, pushLoads } from '../../src/rules/load-cases.js';
import { example, inputsOf, Planner, type ExampleName } from '../support/planned.js';

interface Judged {
  readonly drafts: readonly StageDraft[];
  readonly said: Completion<CompleteOrder>;
}

interface Searched {
  readonly facts: Facts;
  readonly best: readonly StageDraft[];
  /** Every order that the search had judged, with what the one completer of the search said. */
  readonly judged: readonly Judged[];
}

/** Searches an example and listens to what its completer is asked. */
function searchedExample(planner: Planner, name: ExampleName): Searched {
  const { weldment, cell, settings } = inputsOf(example(name));
  if (weldment.kind !== 'geometric' || !cell) throw new Error(`${name} has no shapes`);
  const facts = factsOf(weldment, cell, settings, planner.programs);
  const completer = new OrderCompleter(facts);
  const judged: Judged[] = [];
  const listening = {
    complete: (drafts: readonly StageDraft[]) => {
      const said = completer.complete(drafts);
      judged.push({ drafts, said });
      return said;
    },
  } as unknown as OrderCompleter;
  const report = search(new OrderProblem(facts, listening), { budget: new Budget({ steps: 2000 }) });
  return { facts, best: report.best!.steps, judged };
}

const searches = new Map<ExampleName, Searched>();

beforeAll(async () => {
  const planner = await Planner.load();
  for (const name of ['roller-stand', 'box-beam'] as const)
    searches.set(name, searchedExample(planner, name));
});

/** What a completion says, without the geometry that its stages point to. */
const gist = (said: Completion<CompleteOrder>): unknown =>
  said.kind === 'refused'
    ? said
    : {
        cost: said.cost,
        programs: synchronised(said.result.raw).schedule.programs,
        tacks: said.result.stages.map(({ tacks }) =>
          tacks.map((tack) => [tack.id, tack.order, 'phase' in tack && tack.phase]),
        ),
      };

describe.each(['roller-stand', 'box-beam'] as const)('the completer on %s', (name) => {
  it('says of every order that was judged what one without a memory says', () => {
    const { facts, judged } = searches.get(name)!;
    expect(judged.length).toBeGreaterThan(0);
    for (const { drafts, said } of judged.slice(0, 6))
      expect(gist(said)).toEqual(gist(new OrderCompleter(facts).complete(drafts)));
  });

  it('says the same of an order after it was asked about its beginning and about one in another order', () => {
    const { facts, best } = searches.get(name)!;
    const completer = new OrderCompleter(facts);
    const others = [best.slice(0, 3), [best[0]!, ...best.slice(1).toReversed()], best.slice(0, -1)];
    for (const drafts of others)
      expect(gist(completer.complete(drafts))).toEqual(gist(new OrderCompleter(facts).complete(drafts)));
    expect(gist(completer.complete(best))).toEqual(gist(new OrderCompleter(facts).complete(best)));
  });
});

interface Question {
  readonly newcomer: Newcomer;
  readonly tacks: RobotDraft['tacks'];
  readonly held: readonly HeldPart[];
  readonly loads: ReturnType<typeof standingLoads>;
}

/** A stage of the best order asked about with any of the other parts in place, any of its tacks, held or not. */
function question(
  { facts, best }: Searched,
  asked: {
    stage: number;
    there: readonly boolean[];
    laid: readonly boolean[];
    held: boolean;
    pulled: boolean;
  },
): Question {
  const draft = best[1 + (asked.stage % (best.length - 1))]!;
  if (draft.manual) throw new Error('the examples have no part that a person sets');
  const { part, way } = draft;
  const clamped = best[0]!.part;
  const others = best.map((stage) => stage.part).filter((i) => i !== part && i !== clamped);
  const inPlace = [clamped, ...others.filter((_, i) => asked.there[i])];
  const tacks = draft.tacks.filter(
    ({ a, b }, i) => asked.laid[i] === true && inPlace.includes(a === part ? b : a),
  );
  const there = setOf(facts.scene.parts.length, inPlace);
  return {
    newcomer: { part, inPlace: there, clamped },
    tacks,
    held: asked.held ? [heldBy({ part, grip: way.grip })] : [],
    loads: asked.pulled
      ? [letGoLoad(facts.scene, part, way.grip, way.grip.gripper)]
      : pushLoads(facts.scene, part, inPlace, facts.settings),
  };
}

const anyQuestion = () =>
  fc.record({
    stage: fc.nat({ max: 20 }),
    there: fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
    laid: fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
    held: fc.boolean(),
    pulled: fc.boolean(),
  });

describe.each(['roller-stand', 'box-beam'] as const)('the statics of newcomers on %s', (name) => {
  it('say after other questions what they say when asked first', () => {
    const searched = searches.get(name)!;
    const kept = new NewcomerStatics(searched.facts);
    const falls: boolean[] = [];
    const ask = (statics: NewcomerStatics, { newcomer, tacks, held, loads }: Question): Fall | undefined =>
      statics.fall(newcomer, tacks, held, loads);
    fc.assert(
      fc.property(anyQuestion(), (asked) => {
        const one = question(searched, asked);
        const answer = ask(kept, one);
        falls.push(answer !== undefined);
        expect(answer).toEqual(ask(new NewcomerStatics(searched.facts), one));
      }),
      { numRuns: 120, seed: 3, endOnFailure: true },
    );
    expect(new Set(falls)).toEqual(new Set([true, false]));
  });
});
