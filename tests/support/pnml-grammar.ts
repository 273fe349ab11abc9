import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { RelaxNGValidator, XmlDocument } from 'libxml2-wasm';
import { xmlRegisterFsInputProviders } from 'libxml2-wasm/lib/nodejs.mjs';

/** The RELAX NG grammar of ISO/IEC 15909-2 for place/transition nets, beside the checkout: ../shared/data/SOURCES.md. */
const GRAMMAR = fileURLToPath(new URL('../../../shared/data/pnml-grammar/ptnet.pntd', import.meta.url));

export const grammarIsThere = existsSync(GRAMMAR);

/** What is wrong with a PNML document by the grammar; undefined when nothing is. Files that it includes are local. */
export function pnmlGrammar(): (pnml: string) => string | undefined {
  xmlRegisterFsInputProviders();
  const grammar = XmlDocument.fromString(readFileSync(GRAMMAR, 'utf8'), { url: GRAMMAR });
  const validator = RelaxNGValidator.fromDoc(grammar);
  return (pnml) => {
    try {
      validator.validate(XmlDocument.fromString(pnml));
      return undefined;
    } catch (error) {
      return String(error);
    }
  };
}
