import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { judge } from '../../src/mechanics/equilibrium.js';
import { residuals } from '../../src/mechanics/residuals.js';
import { seededRandom } from '../../src/base/random.js';
import { bearingOf, bodyAt, linkAt, padAt, rectangle, systemOf } from './scenes.js';
const p = await loadLinearPrograms();
const r = seededRandom(5);
const int = (a: number, b: number) => a + Math.floor(r() * (b - a + 1));
for (const scale of [1, 30, 100, 0.1]) {
  for (let k = 0; k < 150; k++) {
    const n = int(3, 16);
    const pos = Array.from({ length: n }, () => [int(0, 4), int(0, 2)] as const);
    const c = (i: number) => [100 * pos[i]![0], 0, 100 * pos[i]![1] + 50] as [number, number, number];
    const bearings = pos.flatMap(([x, z], b) =>
      z === 0
        ? [bearingOf(rectangle([100 * x - 50, 100 * x + 50], [-40, 40], 0), { b, friction: int(0, 6) / 10 })]
        : pos.flatMap(([x2, z2], a) =>
            x2 === x && z2 === z - 1
              ? [
                  bearingOf(rectangle([100 * x - 50, 100 * x + 50], [-40, 40], 100 * z), {
                    a,
                    b,
                    friction: int(0, 6) / 10,
                  }),
                ]
              : [],
          ),
    );
    const links = Array.from({ length: int(n, 3 * n) }, () => {
      const b = int(0, n - 1),
        a = int(-1, n - 1);
      return linkAt([int(-50, 450), int(-50, 50), int(0, 300)], {
        a,
        b,
        strength: int(500, 30000),
        along: [
          [1, 0, 0],
          [0, 1, 0],
          [0.6, 0, 0.8],
        ][int(0, 2)] as any,
      });
    }).filter(({ a, b }) => a !== b);
    const s = systemOf({
      bodies: pos.map((_, i) => bodyAt(c(i), scale * int(1, 9))),
      bearings,
      links,
      pads: [padAt([c(0)[0], 0, c(0)[2] + 50])],
      holds: [{ force: 500, moment: 1e5, at: [0, 0, 300] }],
    });
    const d = Array.from({ length: 8 }, (_, i) => ({
      name: 'd' + i,
      forces: [
        {
          body: int(0, n - 1),
          force: [scale * int(-40, 40), scale * int(-40, 40), scale * int(-40, 40)] as any,
          at: [int(0, 400), 0, int(0, 300)] as any,
        },
      ],
    }));
    const cold = judge(p, s, d, { cold: k % 2 === 1, forces: true });
    const res = residuals(s, cold.gravity.forces!);
    if (res.worst > 1e-7)
      console.log(
        k,
        n,
        cold.gravity.stands,
        cold.gravity.reserve,
        res,
        Math.max(...cold.gravity.forces!.bearings.flat(2), ...cold.gravity.forces!.links.flat(2)),
      );
  }
}
