import type { PageData, Pick } from '../../report/page/page-data.js';
import type { Clock } from '../clock.js';
import type { Picks } from '../picks.js';
import { Frames } from './camera/frames.js';
import type { ScreenPoint } from './camera/nearest-line.js';
import type { Rig } from './camera/rig.js';
import { LabelLayer } from './controls/label-layer.js';
import type { Drawing } from './drawing.js';
import type { Look } from './look.js';
import { labelsOf, type PlacedLabel } from './moment/labels.js';
import type { Moments } from './moment/shown-moment.js';
import { coloursOf } from './scene/colours.js';
import { CONE, StageScene } from './scene/stage-scene.js';

/** How wide an outline is, pixels of the page. */
const OUTLINE = 3;

export interface PictureParts {
  readonly data: PageData;
  readonly moments: Moments;
  readonly clock: Clock;
  readonly picks: Picks;
  readonly look: Look;
  readonly rig: Rig;
  readonly drawing: Drawing;
  /** The canvas lies in it and fills it. */
  readonly box: HTMLElement;
}

/** Keeps the picture as clock, look, view and what is picked say. */
export class Picture {
  readonly frames: Frames;
  readonly labels = new LabelLayer();
  private stage: StageScene;
  private shownLabels: readonly PlacedLabel[] = [];
  private stale = true;
  private sharpness = 0;

  constructor(private readonly parts: PictureParts) {
    const { clock, look, picks, box, drawing } = parts;
    this.frames = new Frames({ draw: (sharpness) => this.draw(sharpness), still: drawing.still });
    this.stage = this.madeStage();
    const renew = (): void => {
      this.stale = true;
      this.frames.request();
    };
    clock.listen(renew);
    look.listen(renew);
    picks.listen(renew);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
      this.stage.dispose();
      this.stage = this.madeStage();
      renew();
    });
    new ResizeObserver(() => this.resize()).observe(box);
  }

  /** What somebody means who points there. */
  pickAt(point: ScreenPoint): Pick | undefined {
    return this.stage.pickAt(point, this.parts.rig, this.parts.look.state);
  }

  private madeStage(): StageScene {
    const { data, moments, drawing, box } = this.parts;
    const colours = coloursOf(document.documentElement);
    drawing.renderer.setClearColor(colours.ground);
    const stage = new StageScene(data, moments, colours);
    stage.shading.resize(box.clientWidth, box.clientHeight, OUTLINE);
    return stage;
  }

  private resize(): void {
    const { box, rig, drawing } = this.parts;
    if (box.clientWidth === 0) return;
    rig.resize(box.clientWidth, box.clientHeight);
    drawing.renderer.setSize(box.clientWidth, box.clientHeight, false);
    this.stage.shading.resize(box.clientWidth, box.clientHeight, OUTLINE);
    this.frames.request();
  }

  private draw(sharpness: number): void {
    const { data, moments, clock, look, picks, rig, drawing, box } = this.parts;
    if (this.stale) {
      this.stale = false;
      const moment = moments.at(clock.now, look.state);
      this.stage.show(moment, look.state, picks.picked);
      this.shownLabels = labelsOf(data, moment, look.state, clock.now, moments.size * CONE);
    }
    if (sharpness !== this.sharpness) {
      this.sharpness = sharpness;
      drawing.renderer.setPixelRatio(sharpness);
    }
    this.labels.show(this.shownLabels, rig, box.clientWidth, box.clientHeight);
    drawing.renderer.render(this.stage.scene, rig.camera);
  }
}
