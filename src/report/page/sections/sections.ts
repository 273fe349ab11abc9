import { section, type SectionParts } from '../html.js';
import { isGeometric, type GeometricContext, type PageContext } from '../page-context.js';
import { distortionSection } from './distortion-section.js';
import { firstThings } from './first-things.js';
import { graphSection } from './graph-section.js';
import { handshakesSection } from './handshakes-section.js';
import { reservesSection } from './reserves-section.js';
import { smallPrint } from './small-print.js';
import { stageSheets } from './stage-sheets.js';
import { stageView } from './stage-view.js';
import { subAssembliesSection } from './sub-assemblies-section.js';
import { timelineSection } from './timeline-section.js';
import { tradeSection } from './trade-section.js';
import { whatIsProved } from './what-is-proved.js';

/** A section that has something to show. */
export interface ShownSection extends SectionParts {
  readonly content: string;
}

/** The sections of a page in their order; those with nothing to show are left out. */
export function sectionsOf(context: PageContext): readonly ShownSection[] {
  const shaped = (make: (geometric: GeometricContext) => string): string =>
    isGeometric(context) ? make(context) : '';
  const all: readonly (SectionParts & { readonly inside: string })[] = [
    { id: 'first', title: 'Read this first', inside: firstThings(context) },
    { id: 'proved', title: 'What this plan is worth', inside: whatIsProved(context) },
    { id: 'sub-assemblies', title: 'Sub-assemblies', inside: shaped(subAssembliesSection) },
    { id: 'stages', title: 'Stage by stage', inside: shaped(stageView) },
    { id: 'timeline', title: 'Timeline', inside: shaped(timelineSection) },
    { id: 'graph', title: 'Contact graph', inside: graphSection(context) },
    { id: 'reserves', title: 'Reserves', inside: shaped(reservesSection) },
    { id: 'distortion', title: 'Distortion', inside: shaped(distortionSection) },
    { id: 'trade', title: 'Trade', inside: tradeSection(context) },
    { id: 'handshakes', title: 'Handshakes and faults', inside: shaped(handshakesSection) },
    { id: 'sheets', title: 'Stage sheets', inside: shaped(stageSheets) },
    { id: 'small-print', title: 'What lies behind it', inside: smallPrint(context) },
  ];
  return all.flatMap(({ id, title, inside }) => {
    const content = section({ id, title }, inside);
    return content === '' ? [] : [{ id, title, content }];
  });
}
