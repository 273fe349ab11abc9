import { boundsAround } from '../../../geometry/bounds.js';
import { inverse, NO_TURN, place, compose, type Pose } from '../../../geometry/pose.js';
import { block } from '../../../geometry/shapes.js';
import { placeSolid } from '../../../geometry/solid.js';
import type { Vec3 } from '../../../geometry/vector.js';
import { stationSolids } from '../../../model/placement.js';
import { poseOf } from '../../../rules/plan-frames.js';
import { plain } from '../../plain.js';
import type { StageView } from '../../../rules/stage-views.js';
import type { GeometricContext } from '../page-context.js';
import type { PageFixture, PageMesh } from '../page-data.js';
import { joinedMeshes, meshOf } from './mesh.js';

/** Slabs that stand for the infeed and the stands of grippers are so thick, mm: our choice, a cell does not say. */
const SLAB = 20;

/** A slab with its top at height 0 of a frame, over a rectangle of that frame. */
const slab = (pose: Pose, [x0, y0]: readonly number[], [x1, y1]: readonly number[]): PageMesh =>
  meshOf(
    placeSolid(
      block(x1! - x0!, y1! - y0!, SLAB),
      compose(pose, { at: [(x0! + x1!) / 2, (y0! + y1!) / 2, -SLAB / 2], turn: NO_TURN }),
    ),
  );

/** As large as what is taken there, since a cell says no more than where the infeed is. */
function infeed({ cell }: GeometricContext, views: readonly StageView[]): readonly PageFixture[] {
  const seen = inverse(cell.infeed.pose);
  const bounds = views.flatMap(({ stage, placed }) => {
    const take = stage.handling[0]?.take;
    return take === undefined ? [] : [placeSolid(placed.own, compose(seen, poseOf(take.part))).bounds];
  });
  if (bounds.length === 0) return [];
  const { low, high } = boundsAround(bounds);
  const mesh = slab(cell.infeed.pose, low, high);
  return [{ name: 'infeed', kind: 'infeed', mesh, turns: false }];
}

/** Where grippers stand that may be changed: under each, as long and wide as it is. */
function toolStands({ cell }: GeometricContext): readonly PageFixture[] {
  if (cell.grippers.length < 2) return [];
  return cell.grippers.map(({ id, stand, reach, envelope }) => {
    const under: Vec3 = place({ at: stand, turn: NO_TURN }, [0, 0, -reach]);
    const half = [envelope.length / 2, envelope.width / 2];
    const mesh = slab(
      { at: under, turn: NO_TURN },
      half.map((value) => -value),
      half,
    );
    return { name: `stand of ${plain(id)}`, kind: 'tool-stand', mesh, turns: false };
  });
}

/** All that stands in the cell beside robots and parts. */
export function pageFixtures(context: GeometricContext, views: readonly StageView[]): readonly PageFixture[] {
  const { scene, cell } = context;
  const [regrip, ...rims] = stationSolids(cell);
  const still = (name: string, kind: PageFixture['kind'], mesh: PageMesh): PageFixture => ({
    ...{ name, kind, mesh, turns: false },
  });
  return [
    {
      ...{ name: 'work table', kind: 'table', mesh: meshOf(scene.table) },
      turns: cell.table.turntable !== undefined,
    },
    ...infeed(context, views),
    still('regrip table', 'regrip', meshOf(regrip!)),
    ...(rims.length === 0 ? [] : [still('two-sided stand', 'two-sided', joinedMeshes(rims.map(meshOf)))]),
    ...scene.keepOuts.map((solid, i) => still(`keep-out ${i + 1}`, 'keep-out', meshOf(solid))),
    ...toolStands(context),
  ];
}
