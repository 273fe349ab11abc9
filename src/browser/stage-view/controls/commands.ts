import type { StandardView } from '../camera/view.js';

/** What can be asked of the view: by keys and by buttons alike. */
export interface Commands {
  /** To the next or the last stage. */
  stage(way: 1 | -1): void;
  /** To where the next or the last step of any robot begins. */
  step(way: 1 | -1): void;
  toEnd(way: 1 | -1): void;
  play(): void;
  /** By radians, about the upright and above the level. */
  orbit(azimuth: number, elevation: number): void;
  /** By shares of the height of the picture. */
  pan(right: number, above: number): void;
  zoom(factor: number): void;
  look(from: StandardView): void;
  /** So that the weldment, or the whole cell, fills the picture. */
  fit(what: 'weldment' | 'cell'): void;
  pickNothing(): void;
}
