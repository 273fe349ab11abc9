import type { PageData, PageMesh, PageRobot, PageStage } from '../../../src/report/page/page-data.js';

/** A cube of 10 mm about its own origin. */
export const CUBE: PageMesh = {
  corners: [0, 1, 2, 3, 4, 5, 6, 7].flatMap((k) => [k & 1 ? 5 : -5, k & 2 ? 5 : -5, k & 4 ? 5 : -5]),
  triangles: [],
  edges: [],
};

const stage = (number: number, part: number, times: readonly [number, number, number]): PageStage => ({
  number,
  part,
  start: times[0],
  placed: times[1],
  end: times[2],
  approach: { direction: [0, 0, -1], distance: 100 },
  heldBy: null,
  alsoHeld: null,
  hold: null,
  turn: 0,
  tacks: [],
});

/** An upright arm, whose flange is at 300 + 200 + 100 + 50 mm above its base where all joints are at 0. */
export const HANDLER: PageRobot = {
  name: 'handler',
  duty: 'handle',
  base: [0, 0, 0, 0, 0, 0, 1],
  arm: {
    ...{ a1: 0, a2: 0, b: 0, c1: 300, c2: 200, c3: 100, c4: 50 },
    offsets: [0, 0, 0, 0, 0, 0],
    signs: [1, 1, 1, 1, 1, 1],
  },
  radii: { column: 30, upperArm: 25, forearm: 20, wrist: 15 },
  tools: [],
  steps: [
    {
      n: 1,
      stage: 1,
      start: 0,
      end: 4,
      what: 'go to infeed',
      tool: -1,
      way: [[0, 0, 0, 0, 0, 0]],
      waits: false,
    },
    {
      n: 2,
      stage: 1,
      start: 4,
      end: 8,
      what: 'go to place',
      tool: -1,
      way: [
        [0, 0, 0, 0, 0, 0],
        [1, 0, 0, 0, 0, 0],
        [2, 0, 0, 0, 0, 0],
      ],
      at: [0.25],
      waits: false,
    },
    {
      n: 3,
      stage: 1,
      start: 8,
      end: 8,
      what: 'signal H1',
      tool: -1,
      way: [[2, 0, 0, 0, 0, 0]],
      waits: false,
    },
    {
      n: 4,
      stage: 2,
      start: 8,
      end: 20,
      what: 'wait for H2',
      tool: -1,
      way: [[2, 0, 0, 0, 0, 0]],
      waits: true,
    },
  ],
};

/** Two cubes: the first is put down at 8 s, the second, held from 14 to 18 s, gets two tacks. */
export const SAMPLE: PageData = {
  weldment: 'sample',
  parts: [
    {
      name: 'plate',
      mesh: CUBE,
      final: [0, 0, 0, 0, 0, 0, 1],
      stage: 1,
      places: [
        { from: 0, where: 'infeed', pose: [100, 0, 0, 0, 0, 0, 1] },
        { from: 4, where: 'carried', robot: 0, pose: [0, 0, 10, 0, 0, 0, 1] },
        { from: 8, where: 'in-place', pose: [0, 0, 0, 0, 0, 0, 1] },
      ],
    },
    {
      name: 'rib',
      mesh: CUBE,
      final: [0, 0, 10, 0, 0, 0, 1],
      stage: 2,
      places: [
        { from: 4, where: 'infeed', pose: [100, 0, 0, 0, 0, 0, 1] },
        { from: 14, where: 'in-place', pose: [0, 0, 10, 0, 0, 0, 1] },
      ],
    },
  ],
  robots: [HANDLER],
  fixtures: [],
  stages: [
    stage(1, 0, [0, 8, 8]),
    {
      ...stage(2, 1, [9, 14, 20]),
      heldBy: 0,
      hold: [14, 18],
      tacks: [1, 2].map((order) => ({
        pick: `tack:2.${order}`,
        order,
        phase: 'securing',
        joint: 0,
        robot: 0,
        from: [-5, 5, 5],
        to: [5, 5, 5],
        torch: [0, 0, -1],
        start: 13 + 2 * order,
        end: 14 + 2 * order,
      })),
    },
  ],
  joints: [
    {
      pick: 'joint:0',
      between: [0, 1],
      seams: [
        [
          [-5, 5, 5],
          [5, 5, 5],
        ],
      ],
    },
  ],
  turns: [],
  distortion: [
    { time: 0, parts: [{ part: 0, move: [0, 0, 0], turn: [0, 0, 0], about: [0, 0, 0] }] },
    { time: 16, parts: [{ part: 1, move: [0.1, 0, 0], turn: [0, 0, 0.001], about: [0, 0, 10] }] },
    { time: 18, parts: [{ part: 0, move: [0, 0.2, 0], turn: [0, 0, 0], about: [0, 0, 0] }] },
  ],
  makespan: 20,
  details: {},
};
