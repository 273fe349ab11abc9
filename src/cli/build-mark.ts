import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';

const CODE = /(?<!\.d)\.[jt]s$/;

/**
 * What this build of the tool is known by: the digest of all its code, with the version and kind of machine of Node. The same
 * input gives the same plan only within one of these.
 */
export function buildMark(): string {
  const hash = createHash('sha256');
  const folder = fileURLToPath(new URL('..', import.meta.url));
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => CODE.test(file));
  for (const file of files.sort()) hash.update(`${file}\0`).update(readFileSync(join(folder, file)));
  return `${hash.digest('hex')} ${process.version} ${process.arch}`;
}
