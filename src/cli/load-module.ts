import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/**
 * The default export of a module by its URL. Node keeps the line of a syntax error to itself when a module is loaded by
 * code, and tells it when it only checks one: so that is asked for it.
 *
 * @throws whatever the module throws; a SyntaxError with the line in its message, where Node gives one.
 */
export async function loadModule(url: string): Promise<unknown> {
  try {
    return ((await import(url)) as { default?: unknown }).default;
  } catch (error) {
    const line = error instanceof SyntaxError ? lineOfSyntaxError(fileURLToPath(url)) : undefined;
    if (line === undefined) throw error;
    throw new SyntaxError(`${(error as SyntaxError).message}, at line ${line}`, { cause: error });
  }
}

/** Undefined where the file itself is sound: the fault is in one that it imports. */
function lineOfSyntaxError(file: string): string | undefined {
  const { status, stderr } = spawnSync(process.execPath, ['--check', file], { encoding: 'utf8', env: {} });
  const first = stderr.split('\n', 1)[0]!;
  return status === 0 || !first.startsWith(`${file}:`) ? undefined : /:(\d+)$/.exec(first)?.[1];
}
