import type { Cell } from '../../../src/model/cell.js';
import type { GeometricPlan } from '../../../src/model/plan.js';
import { buildScene } from '../../../src/model/scene.js';
import type { Weldment } from '../../../src/model/weldment.js';
import type { GeometricContext, PageContext, PageHead } from '../../../src/report/page/page-context.js';
import { pageHtml } from '../../../src/report/page/page-html.js';

/** What stands for the script and the style of a page where only its markup is looked at. */
export const ASSETS = { script: 'void 0;', style: 'body { margin: 0 }' } as const;

/** Everything that sections may ask, for a plan of what it was made for. */
export const shapedContext = (
  { plan, weldment, cell }: { plan: GeometricPlan; weldment: Weldment; cell: Cell },
  head: Partial<PageHead> = {},
): GeometricContext => ({
  ...{ findings: undefined, why: [], ...head },
  ...{ plan, cell, scene: buildScene(weldment, cell, plan.settings) },
});

export const pageOf = (context: PageContext): string => pageHtml(context, ASSETS);
