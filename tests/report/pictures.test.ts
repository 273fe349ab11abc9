import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { Facts } from '../../src/facts/facts.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { Weldment } from '../../src/model/weldment.js';
import { graphLayout, tangles } from '../../src/report/contact-graph-layout.js';
import { layersOf, standingRows } from '../../src/report/contact-graph-rows.js';
import { graphPicture } from '../../src/report/contact-graph-svg.js';
import { planGraph, weldmentGraph } from '../../src/report/drawn-graph.js';
import { partSetSvg } from '../../src/report/part-set-svg.js';
import { drawnJoints, inspectPictures, planPictures } from '../../src/report/pictures.js';
import { testCell } from '../support/cell.js';
import { handMadePlan } from '../support/hand-made-plan.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';
import { pathPoints } from './path-points.js';
import { allNodes, readXml, shownTexts, type XmlNode } from './xml.js';

let facts: Facts;
let plan: GeometricPlan;

beforeAll(async () => {
  const programs = await loadLinearPrograms();
  facts = new Facts(buildScene(standWeldment(), testCell(), DEFAULT_SETTINGS), DEFAULT_SETTINGS, programs);
  plan = handMadePlan(programs);
});

const sceneOf = (weldment: Weldment) => buildScene(weldment, testCell(), DEFAULT_SETTINGS);

const HOSTILE = '</svg><script>"&\'';

/** The stand with names that try to break out. */
function hostile(): Weldment {
  const stand = standWeldment();
  const named = (id: string): string => `${HOSTILE}${id}`;
  return {
    ...stand,
    name: HOSTILE,
    parts: stand.parts.map((part) => ({ ...part, id: named(part.id) })),
    joints: stand.joints!.map((joint) => ({
      ...joint,
      between: [named(joint.between[0]), named(joint.between[1])] as const,
    })),
    needs: [],
    first: named('base'),
  };
}

const named = (root: XmlNode, name: string): XmlNode[] => allNodes(root).filter((node) => node.name === name);

describe('the contact graph', () => {
  it('shows every part, contact and joint', () => {
    const root = readXml(graphPicture(weldmentGraph(facts.scene, facts.joints)));
    const texts = shownTexts(root);
    expect(texts).toEqual(
      expect.arrayContaining([
        ...['stand: contact graph', '3 parts, 3 contacts, 3 joints', 'base', 'wall', 'rib', 'first'],
        ...['J1 fillet 4', 'J2 fillet 4', 'J3 fillet 4', 'plate 320 x 320 x 10, 8.04 kg'],
      ]),
    );
    expect(named(root, 'path')).toHaveLength(3);
  });

  it('draws bearing solid and adjacency dashed', () => {
    const near = standWeldment();
    const apart: Weldment = {
      ...near,
      parts: near.parts.map((part) =>
        part.id === 'rib' ? steelPart('rib', plateShape(140, 120, 8), [0, 74.5, 70], [90, 0, 90]) : part,
      ),
    };
    const dashes = (weldment: Weldment): number =>
      named(readXml(graphPicture(weldmentGraph(sceneOf(weldment), []))), 'path').filter((path) =>
        path.attributes.has('stroke-dasharray'),
      ).length;
    expect(dashes(near)).toBe(0);
    expect(dashes(apart)).toBe(1);
  });

  it('numbers parts as they join', () => {
    expect(shownTexts(readXml(graphPicture(planGraph(plan, facts.scene))))).toEqual(
      expect.arrayContaining(['1. base', '2. wall', '3. rib']),
    );
  });

  it('shows a joint that has no contact', () => {
    const { index } = facts.scene;
    const [a, b] = [index.get('base')!, index.get('rib')!];
    const scene = { ...facts.scene, contacts: facts.scene.contacts.filter((c) => c.a + c.b !== a + b) };
    expect(shownTexts(readXml(graphPicture(weldmentGraph(scene, facts.joints))))).toContain(
      'J2 fillet 4: no contact',
    );
  });

  it('puts a part above what it lies on, and boxes beside one another', () => {
    const layers = layersOf(facts.scene);
    const { index } = facts.scene;
    expect(['base', 'wall', 'rib'].map((id) => layers[index.get(id)!])).toEqual([0, 1, 1]);
    const names = facts.scene.parts.map(({ part }) => ({ name: part.id, detail: '' }));
    const { nodes } = graphLayout(names, standingRows(facts.scene), [], {
      least: 300,
      gap: 40,
      layerGap: 60,
    });
    const [base, wall, rib] = ['base', 'wall', 'rib'].map((id) => nodes.get(index.get(id)!)!.box);
    expect(base!.y).toBeGreaterThan(wall!.y);
    expect(wall!.y).toBe(rib!.y);
    expect(Math.abs(wall!.x - rib!.x)).toBeGreaterThanOrEqual(40 + Math.min(wall!.width, rib!.width));
  });

  it('counts crossings and detours', () => {
    expect(
      tangles(
        [
          [0, 1],
          [2, 3],
        ],
        [
          [0, 3],
          [1, 2],
        ],
      ),
    ).toBe(1);
    expect(
      tangles(
        [
          [0, 1],
          [3, 2],
        ],
        [
          [0, 3],
          [1, 2],
        ],
      ),
    ).toBe(0);
    expect(tangles([[0, 1, 2]], [[0, 2]])).toBe(1);
  });
});

describe('a picture of parts in place', () => {
  const all = (): number[] => facts.scene.parts.map((_, i) => i);

  it('names every part and every seam', () => {
    const view = { title: 'whole', parts: all(), joints: facts.joints };
    const texts = shownTexts(readXml(partSetSvg(facts.scene, view)));
    expect(texts).toEqual(
      expect.arrayContaining(['whole', 'base', 'wall', 'rib', 'J1.1', 'J1.2', 'J2.1', 'J3.1', 'x', 'y', 'z']),
    );
    expect(texts).toContain('bearing: may carry force');
    expect(texts).not.toContain('only adjacent: may be joined');
  });

  it('hatches the newcomer and shows only what joins it', () => {
    const rib = facts.scene.index.get('rib')!;
    const root = readXml(
      partSetSvg(facts.scene, { title: 'rib', parts: all(), newcomer: rib, joints: facts.joints }),
    );
    const hatched = named(root, 'path').filter((node) => node.attributes.get('fill') === 'url(#newcomer)');
    expect(hatched.length).toBeGreaterThanOrEqual(3);
    const texts = shownTexts(root);
    expect(texts).toEqual(expect.arrayContaining(['J2.1', 'J3.1']));
    expect(texts).not.toContain('J1.1');
    const bold = named(root, 'text').filter((node) => node.attributes.get('font-weight') === 'bold');
    expect(bold.map(({ text }) => text)).toEqual(['rib', 'rib']);
  });

  it('draws the scale bar true along x: a bar of 100 mm is as long as 100 mm of the base', () => {
    const base = facts.scene.index.get('base')!;
    const root = readXml(partSetSvg(facts.scene, { title: 'base', parts: [base], joints: [] }));
    const text = shownTexts(root).find((own) => own.endsWith(' mm along x, y or z'))!;
    const number = (node: XmlNode, name: string): number => Number(node.attributes.get(name));
    const lines = named(root, 'line');
    const bar = lines.find((node) => node.attributes.get('y1') === '735' && number(node, 'x2') > 30)!;
    const perMillimetre = (number(bar, 'x2') - number(bar, 'x1')) / Number(text.split(' ')[0]);
    const lengths = named(root, 'path')
      .flatMap((node) => pathPoints(node.attributes.get('d')!))
      .flatMap((run) => run.slice(1).map(([x, y], i) => Math.hypot(x - run[i]![0], y - run[i]![1])));
    expect(lengths.some((length) => Math.abs(length / perMillimetre - 320) < 0.5)).toBe(true);
  });

  it('keeps everything on the sheet', () => {
    for (const { svg } of inspectPictures(facts)) {
      const root = readXml(svg);
      const [, , width, height] = root.attributes.get('viewBox')!.split(' ').map(Number);
      for (const node of allNodes(root)) {
        if (node.name === 'text') {
          expect(Number(node.attributes.get('x'))).toBeLessThan(width!);
          expect(Number(node.attributes.get('y'))).toBeLessThan(height!);
        }
        for (const pair of node.attributes.get('points')?.split(' ') ?? []) {
          const [x, y] = pair.split(',').map(Number);
          expect(x! >= 0 && x! <= width! && y! >= 0 && y! <= height!).toBe(true);
        }
        for (const [x, y] of node.name === 'path' ? pathPoints(node.attributes.get('d')!).flat() : [])
          expect(x >= 0 && x <= width! && y >= 0 && y <= height!).toBe(true);
      }
    }
  });
});

describe('picture files', () => {
  it('are named from numbers only, whatever the parts are called', () => {
    const scene = sceneOf(hostile());
    const files = inspectPictures({ scene, joints: facts.joints }).map(({ file }) => file);
    expect(files).toEqual(['contact-graph.svg', 'whole.svg', 'part-01.svg', 'part-02.svg', 'part-03.svg']);
  });

  it('are well-formed and hold no element that a name brought in', () => {
    const scene = sceneOf(hostile());
    const { joints } = new Facts(scene, DEFAULT_SETTINGS, facts.programs);
    for (const { svg } of inspectPictures({ scene, joints })) {
      const root = readXml(svg);
      expect(named(root, 'script')).toEqual([]);
      expect(shownTexts(root).some((text) => text.includes('</svg><script>'))).toBe(true);
    }
  });

  it('are the same every time', () => {
    expect(inspectPictures(facts)).toEqual(inspectPictures(facts));
  });

  it('show each stage of a plan with its tacks in order', () => {
    const pictures = planPictures(plan, facts.scene);
    expect(pictures.map(({ file }) => file)).toEqual([
      'contact-graph.svg',
      'stage-01.svg',
      'stage-02.svg',
      'stage-03.svg',
    ]);
    plan.stages.forEach(({ part, tacks }, i) => {
      const texts = shownTexts(readXml(pictures[i + 1]!.svg));
      expect(texts).toContain(`Stage ${i + 1}: ${part} joins`);
      expect(texts).toContain('comes from above');
      const numbers = texts.filter((text) => /^\d+$/.test(text));
      expect(numbers).toEqual(tacks.map(({ order }) => String(order)));
    });
  });

  it('draw each tack where it is on its seam, as long as it is', () => {
    const root = readXml(planPictures(plan, facts.scene)[2]!.svg);
    const number = (node: XmlNode, name: string): number => Number(node.attributes.get(name));
    const bars = named(root, 'line').filter(
      (node) => node.attributes.get('stroke') === '#a8321a' && number(node, 'stroke-width') >= 5,
    );
    const length = (x: number, y: number): number => Math.hypot(x, y);
    const scale = named(root, 'line').find((node) => node.attributes.get('y1') === '735')!;
    const perMillimetre = (number(scale, 'x2') - number(scale, 'x1')) / 100;
    const { tacks } = plan.stages[1]!;
    const drawn = bars.filter((node) => node.attributes.get('stroke-linecap') === 'round');
    const inStage = drawn.slice(0, tacks.length);
    expect(shownTexts(root)).toContain('100 mm along x, y or z');
    for (const node of inStage)
      expect(
        length(number(node, 'x2') - number(node, 'x1'), number(node, 'y2') - number(node, 'y1')) /
          perMillimetre,
      ).toBeCloseTo(40, 1);
    // Tacks 1 and 3 are on one seam, 240 mm apart.
    const [one, , three] = inStage;
    const apart = length(
      number(three!, 'x1') - number(one!, 'x1'),
      number(three!, 'y1') - number(one!, 'y1'),
    );
    expect(apart / perMillimetre).toBeCloseTo(tacks[2]!.start - tacks[0]!.start, 1);
  });

  it('tell where a part comes from as the weldment file sees it', () => {
    const other = structuredClone(plan);
    // The cell turns the weldment by a quarter: its x is the y of the cell.
    other.stages[2]!.approach!.direction = [0, 1, 0];
    expect(shownTexts(readXml(planPictures(other, facts.scene)[3]!.svg))).toContain('comes from -x');
  });

  it('leave out parts and joints that the scene does not have', () => {
    const other = structuredClone(plan);
    other.stages[2]!.part = 'gone';
    other.joints[1]!.between = ['base', 'gone'];
    expect(planPictures(other, facts.scene)).toHaveLength(3);
    expect(drawnJoints(other, facts.scene).map(({ id }) => id)).toEqual(['J1', 'J3']);
  });
});
