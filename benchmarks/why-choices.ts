/**
 * Asks about every choice of the plan of each example (`everyQuestion`; of the tacks one a joint) and prints how many
 * answers are of which kind, with every answer that is none. Names of examples as arguments, or all of them.
 *
 *     node --import tsx benchmarks/why-choices.ts roller-stand ladder-bracket
 */
import { readFileSync } from 'node:fs';
import { loadLinearPrograms } from '../src/algorithms/linear-program.js';
import { canonicalText } from '../src/io/canonical.js';
import { answerText } from '../src/report/why-text.js';
import { readInputs, type Source } from '../src/session/inputs.js';
import { planInputs } from '../src/session/plan.js';
import { whySession } from '../src/session/why.js';
import { everyQuestion } from '../tests/session/why-questions.js';

const EXAMPLES = ['ring-of-six', 'roller-stand', 'box-beam', 'ladder-bracket', 'machine-sub-frame'];

const source = (path: string): Source => ({
  text: readFileSync(new URL(`../examples/${path}`, import.meta.url), 'utf8'),
  name: path,
});

const asked = process.argv.slice(2);
const programs = await loadLinearPrograms();
for (const name of asked.length > 0 ? asked : EXAMPLES) {
  const cell = `cells/${name === 'machine-sub-frame' ? 'long' : 'twin'}-bench.cell.yaml`;
  const sources = {
    weldment: source(`${name}/${name}.weldment.yaml`),
    ...(name === 'ring-of-six' ? {} : { cell: source(cell) }),
  };
  const inputs = readInputs(sources).inputs!;
  const begun = performance.now();
  const outcome = planInputs(inputs, { programs });
  if (outcome.kind !== 'planned') throw new Error(`${name}: ${outcome.kind}`);
  const planning = performance.now() - begun;
  const questions = everyQuestion(outcome.plan, inputs.weldment);
  const plan = { text: canonicalText(outcome.plan), name: `${name}.plan.json` };
  const kinds = new Map<string, number>();
  const started = performance.now();
  for (const question of questions) {
    const why = whySession(plan, sources, [question], { programs });
    const answer = why.kind === 'answered' ? why.answers[0]! : undefined;
    const kind = answer?.verdict.kind ?? why.kind;
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    if (answer === undefined) console.log(JSON.stringify(question), JSON.stringify(why));
    else if (['unknown', 'refused', 'better'].includes(kind)) console.log(answerText(answer));
  }
  const seconds = (performance.now() - started) / 1000;
  console.log(
    `${name}: ${questions.length} questions in ${seconds.toFixed(0)} s (planning ${(planning / 1000).toFixed(0)} s): ${JSON.stringify(Object.fromEntries(kinds))}`,
  );
}
