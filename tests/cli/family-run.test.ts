import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runTasks, type TaskMeans } from '../../src/cli/family-run.js';
import { FamilyStore } from '../../src/cli/family-store.js';
import type { FamilyTask, FamilyTaskResult, RunTask } from '../../src/family/task.js';

const folder = mkdtempSync(join(tmpdir(), 'tackwright-family-run-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const own = (name: string, text = `weldment: ${name}`): FamilyTask => ({
  kind: 'own',
  variant: { name, values: {}, text },
});
const refused = (text: string): FamilyTaskResult => ({
  kind: 'impossible',
  reasons: [{ code: 'payload', subjects: ['web'], value: 21, limit: 16, text }],
});
const all =
  (...tasks: FamilyTask[]) =>
  (run: RunTask) =>
    Promise.all(tasks.map(run));

/** Threads that are none: what is not done at once is rejected when they are stopped. */
function fakeThreads(now: (name: string) => FamilyTaskResult | Error | undefined): Omit<TaskMeans, 'store'> {
  let stop: () => void = () => undefined;
  const stopped = new Promise<never>((_, reject) => {
    stop = () => reject(new Error('the thread was ended'));
  });
  stopped.catch(() => undefined);
  return {
    run: ({ variant: { name } }) => {
      const result = now(name);
      if (result instanceof Error) return Promise.reject(result);
      return result === undefined ? stopped : Promise.resolve(result);
    },
    stop: () => Promise.resolve(stop()),
  };
}

describe('finished tasks that are kept', () => {
  const store = new FamilyStore(folder, { cell: 'a' });
  const task = own('low');
  const file = (): string => join(folder, readdirSync(folder)[0]!);

  it('are taken up for the very same task only', () => {
    expect(store.taken(task)).toBeUndefined();
    expect(store.keep(task, refused('too heavy'))).toBeUndefined();
    expect(store.taken(own('low'))).toEqual(refused('too heavy'));
    expect(store.taken(own('low', 'weldment: other'))).toBeUndefined();
    expect(store.taken(own('other', 'weldment: low'))).toBeUndefined();
    expect(new FamilyStore(folder, { cell: 'b' }).taken(task)).toBeUndefined();
    const pattern = { id: 'P1', from: 'low', stages: [] };
    const follow = { kind: 'follow' as const, variant: task.variant, pattern };
    expect(store.taken(follow)).toBeUndefined();
    store.keep(follow, refused('by the pattern'));
    const renamed = { ...follow, pattern: { ...pattern, id: 'P2' } };
    expect(store.taken(renamed)).toEqual(refused('by the pattern'));
    expect(store.taken(task)).toEqual(refused('too heavy'));
  });

  it.each([
    ['torn', (text: string) => text.slice(0, -30)],
    ['edited', (text: string) => text.replace('21', '22')],
    ['of another form', (text: string) => text.replace('"reasons"', '"causes"')],
    ['empty', () => ''],
  ])('are not taken up when they are %s', (_, spoil) => {
    const whole = new Map(
      readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
    );
    for (const [name, text] of whole) writeFileSync(join(folder, name), spoil(text));
    expect(store.taken(task)).toBeUndefined();
    for (const [name, text] of whole) writeFileSync(join(folder, name), text);
    expect(store.taken(task)).toBeDefined();
  });

  it('are kept again over a file that is broken', () => {
    writeFileSync(file(), 'x');
    store.keep(task, refused('too heavy'));
    expect(store.taken(task)).toEqual(refused('too heavy'));
  });

  it('tell where they cannot be kept', () => {
    const issue = new FamilyStore(join(folder, 'no', 'such'), {}).keep(task, refused('x'));
    expect(issue).toMatchObject({ code: 'file', problem: 'the file cannot be written (ENOENT)' });
  });
});

describe('the tasks of a family', () => {
  it('are done, but for those that an earlier run left, and counted', async () => {
    const kept = own('kept');
    const store = {
      taken: (task: FamilyTask) => (task === kept ? refused('earlier') : undefined),
      keep: () => undefined,
    };
    const ran = await runTasks(all(kept, own('new')), { ...fakeThreads(refused), store });
    expect(ran).toEqual({
      kind: 'done',
      value: [refused('earlier'), refused('new')],
      counts: { done: 2, taken: 1 },
    });
  });

  it('hand on what is new in the form in which it is kept', async () => {
    const reason = { code: 'payload', subjects: ['web'], value: undefined, text: 'too heavy' };
    const threads = fakeThreads(() => ({ kind: 'impossible', reasons: [reason] }));
    const ran = await runTasks(all(own('a')), { ...threads, store: undefined });
    if (ran.kind !== 'done') throw new Error(ran.kind);
    const only = ran.value[0]!;
    expect(only.kind === 'impossible' && Object.keys(only.reasons[0]!)).toEqual(['code', 'subjects', 'text']);
  });

  it('end with the first interrupt, and what was done is kept', async () => {
    const done: string[] = [];
    const store = {
      taken: () => undefined,
      keep: ({ variant }: FamilyTask) => void done.push(variant.name),
    };
    const threads = fakeThreads((name) => (name === 'long' ? undefined : refused(name)));
    const running = runTasks(all(own('short'), own('long')), { ...threads, store });
    await new Promise((resolve) => setTimeout(resolve, 5));
    process.emit('SIGINT');
    expect(await running).toEqual({ kind: 'interrupted', counts: { done: 1, taken: 0 } });
    expect(done).toEqual(['short']);
    expect(process.listenerCount('SIGINT')).toBe(0);
  });

  it('end where a thread fails, and say at which task', async () => {
    const error = new Error('out of memory');
    const threads = fakeThreads((name) => (name === 'bad' ? error : undefined));
    const ran = await runTasks(all(own('good'), own('bad')), { ...threads, store: undefined });
    expect(ran).toMatchObject({ kind: 'defect', task: { variant: { name: 'bad' } }, error });
  });

  it('end where what is done cannot be kept', async () => {
    const issue = new FamilyStore(join(folder, 'no', 'such'), {}).keep(own('a'), refused('x'))!;
    const store = { taken: () => undefined, keep: () => issue };
    const ran = await runTasks(all(own('a'), own('b')), { ...fakeThreads(refused), store });
    expect(ran).toMatchObject({ kind: 'failed', issue });
  });

  it('do not hide that the work itself fails', async () => {
    const broken = (): Promise<never> => Promise.reject(new Error('a defect'));
    await expect(runTasks(broken, { ...fakeThreads(refused), store: undefined })).rejects.toThrow('a defect');
    expect(process.listenerCount('SIGINT')).toBe(0);
  });
});
