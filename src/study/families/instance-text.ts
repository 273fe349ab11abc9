import { Document, isCollection, isMap, isPair } from 'yaml';

/**
 * A generated file as YAML, one line for each part, contact, joint, relation, robot and gripper. Equal files give equal
 * bytes.
 *
 * @param about lines of comment at the top
 */
export function instanceText(file: object, about: readonly string[]): string {
  const document = new Document(file, { aliasDuplicateObjects: false });
  document.commentBefore = about.map((line) => ` ${line}`).join('\n');
  const members = isMap(document.contents) ? document.contents.items : [];
  for (const { value } of members)
    for (const item of isCollection(value) ? value.items : []) {
      const entry = isPair(item) ? item.value : item;
      if (isCollection(entry)) entry.flow = true;
    }
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}
