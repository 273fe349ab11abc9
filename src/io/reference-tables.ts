import { REFERENCE } from '../mechanics/reference.js';

/** The reference tables with their sources, as a file for the folder `shared`. */
export const referenceTables = (): { readonly fileName: string; readonly text: string } => ({
  fileName: 'reference.json',
  text: `${JSON.stringify(REFERENCE, null, 2)}\n`,
});
