import { OrthographicCamera, Vector3 } from 'three';
import { along, dot, subtract, type Vec3 } from '../../../geometry/vector.js';
import type { ScreenPoint } from './nearest-line.js';
import { axesOf, type View } from './view.js';

/** How far before and behind what is looked at things are seen, mm; more than any cell. */
const DEPTH = 20_000;

/** The camera of three for a view, and where points of the cell are on the picture. */
export class Rig {
  readonly camera = new OrthographicCamera(-1, 1, 1, -1, 0, 2 * DEPTH);
  private size: readonly [width: number, height: number] = [1, 1];
  private shown: View;

  constructor(view: View) {
    this.shown = view;
    this.camera.matrixAutoUpdate = false;
    this.view = view;
  }

  get view(): View {
    return this.shown;
  }

  set view(view: View) {
    this.shown = view;
    const { right, up, toward } = axesOf(view);
    this.camera.matrix.makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...toward));
    this.camera.matrix.setPosition(...along(view.target, toward, DEPTH));
    this.camera.updateMatrixWorld(true);
    this.fit();
  }

  get aspect(): number {
    return this.size[0] / this.size[1];
  }

  /** Width and height of the picture in pixels of the page. */
  resize(width: number, height: number): void {
    this.size = [Math.max(1, width), Math.max(1, height)];
    this.fit();
  }

  /** Pixels from the left and top, and how far behind the viewer, mm. */
  project(point: Vec3): readonly [x: number, y: number, depth: number] {
    const { right, up, toward } = axesOf(this.shown);
    const from = subtract(point, this.shown.target);
    const scale = this.size[1] / this.shown.height;
    return [
      this.size[0] / 2 + dot(from, right) * scale,
      this.size[1] / 2 - dot(from, up) * scale,
      DEPTH - dot(from, toward),
    ];
  }

  /** A point of the picture as three wants it, from -1 to 1 with y upwards. */
  normalised([x, y]: ScreenPoint): readonly [number, number] {
    return [(2 * x) / this.size[0] - 1, 1 - (2 * y) / this.size[1]];
  }

  /** A point of the picture right of and above its middle, in heights of the picture. */
  inHeights([x, y]: ScreenPoint): readonly [number, number] {
    return [(x - this.size[0] / 2) / this.size[1], (this.size[1] / 2 - y) / this.size[1]];
  }

  private fit(): void {
    const { camera } = this;
    camera.top = this.shown.height / 2;
    camera.bottom = -camera.top;
    camera.right = camera.top * this.aspect;
    camera.left = -camera.right;
    camera.updateProjectionMatrix();
  }
}
