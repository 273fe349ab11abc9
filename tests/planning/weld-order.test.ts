import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { canonicalText } from '../../src/io/canonical.js';
import { planWeldSchema } from '../../src/model/plan-weld.js';
import { buildScene } from '../../src/model/scene.js';
import { weldOrder } from '../../src/planning/weld-order.js';
import { replayedStages, type Replayed } from '../../src/rules/distortion-replay.js';
import { tackedUp, weldAccount, weldSeams, weldSegments } from '../../src/rules/weld-run.js';
import { readInputs } from '../../src/session/inputs.js';
import { benchSources, tackedPlan, type TackChoice } from '../support/tacked-plan.js';

const LENGTH = 400;

/** Our own invention: sole, web and lid of an I-beam with four fillets, each tacked at its ends. */
const beam = (extra: Readonly<Record<string, unknown>> = {}) =>
  benchSources({
    weldment: 'i-beam',
    parts: {
      sole: { plate: { length: LENGTH, width: 120, thickness: 10 }, at: [0, 0, 5] },
      web: { plate: { length: LENGTH, width: 150, thickness: 8 }, at: [0, 0, 85], turn: [90, 0, 0] },
      lid: { plate: { length: LENGTH, width: 120, thickness: 10 }, at: [0, 0, 165] },
    },
    joints: [
      { between: ['sole', 'web'], sides: 'both', leg: 5 },
      { between: ['web', 'lid'], sides: 'both', leg: 5 },
    ],
    first: 'sole',
    ...extra,
  });

const ends = (seam: string): TackChoice[] => [10, LENGTH - 40].map((start) => ({ seam, start, leg: Number(process.env.LEG ?? 5) }));

async function contextOf(sources = beam(), settings: Record<string, number> = {}): Promise<Replayed> {
  const plan = tackedPlan(sources, await loadLinearPrograms(), [
    ['sole'],
    ['web', ...ends('J1.1'), ...ends('J1.2')],
    ['lid', ...ends('J2.1'), ...ends('J2.2')],
  ]);
  Object.assign(plan.settings.weld, settings);
  const { weldment, cell } = readInputs(sources).inputs!;
  if (weldment.kind !== 'geometric') throw new Error('no shapes');
  return { plan, cell: cell!, settings: plan.settings, scene: buildScene(weldment, cell!, plan.settings) };
}

/** What an order of seams comes to, each laid forwards from end to end. */
function valueOf(context: Replayed, order: readonly string[]): number {
  const run = tackedUp(context);
  const seams = weldSeams(context);
  for (const id of order) {
    const seam = seams.find((one) => one.id === id)!;
    for (const segment of weldSegments(context.scene, context.settings, seam, { from: 0, to: seam.length }))
      { run.lay(segment); if(process.env.V) console.log(id, [0,2].map((p)=>run.motion(p).turn.map((x)=>(x*180/Math.PI).toFixed(3)).join(',')).join('  |  ')); }
  }
  return weldAccount(context.scene, run, replayedStages(context).map(({ part }) => part)).value;
}

describe('order of the full welds of an I-beam', () => {
  let context: Replayed;
  beforeAll(async () => {
    context = await contextOf();
  });

  it('shows', () => {
    console.log(weldSeams(context).map(({id, open})=>`${id} ${open.map(x=>x.toFixed(2))}`));
    for (const o of [['J1.1','J1.2','J2.1','J2.2'],['J1.1','J2.1','J1.2','J2.2'],['J1.1','J2.2','J1.2','J2.1'],['J1.2','J2.1','J1.1','J2.2'],['J1.2','J2.2','J1.1','J2.1']]) console.log(o.join(' '), valueOf(context,o));
  });
});
