import { hollowSectionFrame } from './hollow-section-frame.js';
import { nestedBox } from './nested-box.js';
import { ribbedBase } from './ribbed-base.js';
import { stiffenedPanel } from './stiffened-panel.js';
import type { Family } from './structure.js';

/** All families by which instances are made. */
export const FAMILIES: readonly Family[] = [ribbedBase, nestedBox, hollowSectionFrame, stiffenedPanel];

export const findFamily = (name: string): Family | undefined =>
  FAMILIES.find((family) => family.name === name);
