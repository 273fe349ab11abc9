/**
 * Asks about every choice of the plan of each example (`everyQuestion`; of the tacks one a joint) in one call, as
 * `tackwright why` does, and prints how many answers are of which kind, the seconds of the processor, and every answer
 * that is none. Names of examples as arguments, or all of them; `--every N` asks every Nth question, `--each` prints the time of each.
 *
 *     node --import tsx benchmarks/why-choices.ts roller-stand ladder-bracket
 */
import { parseArgs } from 'node:util';
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

const { values: flags, positionals: asked } = parseArgs({
  allowPositionals: true,
  options: { every: { type: 'string', default: '1' }, each: { type: 'boolean', default: false } },
});
const spent = (): number => process.cpuUsage().user / 1e6;
const programs = await loadLinearPrograms();
for (const name of asked.length > 0 ? asked : EXAMPLES) {
  const cell = `cells/${name === 'machine-sub-frame' ? 'long' : 'twin'}-bench.cell.yaml`;
  const sources = {
    weldment: source(`${name}/${name}.weldment.yaml`),
    ...(name === 'ring-of-six' ? {} : { cell: source(cell) }),
  };
  const inputs = readInputs(sources).inputs!;
  const begun = spent();
  const outcome = planInputs(inputs, { programs });
  if (outcome.kind !== 'planned') throw new Error(`${name}: ${outcome.kind}`);
  const planning = spent() - begun;
  const all = everyQuestion(outcome.plan, inputs.weldment);
  const questions = all.filter((_, i) => i % Number(flags.every) === 0);
  const plan = { text: canonicalText(outcome.plan), name: `${name}.plan.json` };
  const started = spent();
  const times: number[] = [];
  const onProgress = (): unknown => times.push(spent());
  const why = whySession(plan, sources, questions, { programs, onProgress });
  if (why.kind !== 'answered') throw new Error(`${name}: ${JSON.stringify(why)}`);
  const seconds = spent() - started;
  times.push(spent());
  const kinds = new Map<string, number>();
  for (const [i, answer] of why.answers.entries()) {
    const { kind } = answer.verdict;
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    if (flags.each)
      console.log(`${(times[i + 1]! - times[i]!).toFixed(1)} s ${kind} ${JSON.stringify(answer.question)}`);
    if (['unknown', 'refused', 'better'].includes(kind)) console.log(answerText(answer));
  }
  const told = [...kinds].map(([kind, count]) => `${count} ${kind}`).join(', ');
  console.log(
    `${name}: ${questions.length} of ${all.length} questions in ${seconds.toFixed(0)} s (planning ${planning.toFixed(0)} s): ${told}`,
  );
}
