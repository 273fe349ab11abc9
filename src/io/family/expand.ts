import { fail, ok, type Result } from '../../base/result.js';
import type { Path } from '../show.js';
import type { FamilyBase } from './base.js';
import type { BaseExpressions } from './base-expressions.js';
import { withCopy } from './definitions.js';
import { EntryNames } from './entry-names.js';
import type { Scope } from './expression.js';
import { copyName, NAMING, namedOnce } from './part-names.js';
import { isMap, Working, type Plain, type WorkingFault } from './working.js';

/** A weldment file as plain data, and where each thing of it comes from. */
export interface Expanded {
  readonly value: Plain;
  /** The place in the base of a place in the weldment. */
  readonly originOf: (path: Path) => Path;
}

/** The weldment that a base gives where names stand for what `scope` says; all that is wrong with it otherwise. */
export function expand(
  base: FamilyBase,
  expressions: BaseExpressions,
  scope: Scope,
): Result<Expanded, readonly WorkingFault[]> {
  const working = new Working(expressions);
  const expansion = new Expansion(base, working);
  const value = expansion.weldment(scope);
  if (working.faults.length > 0) return fail(working.faults);
  return ok({ value, originOf: (path) => expansion.originOf(path) });
}

class Expansion {
  private readonly origins = new Map<string, Path>();

  constructor(
    private readonly base: FamilyBase,
    private readonly working: Working,
  ) {}

  weldment(scope: Scope): Plain {
    const { parts, ...others } = this.base.value;
    const there = new Map<string, readonly number[]>();
    const made: Record<string, unknown> = { parts: this.parts(parts as Plain, scope, there) };
    const names = new EntryNames(this.base.repeated, there);
    for (const [key, value] of Object.entries(others))
      made[key] =
        Object.hasOwn(NAMING, key) && Array.isArray(value)
          ? this.entries(key, value, names, scope)
          : this.plain(value, [key], [key], scope);
    if ('first' in made) made['first'] = names.one(made['first'], 0);
    return made;
  }

  /** The place in the base of the longest beginning of the path that came from elsewhere, and the rest of the path. */
  originOf(path: Path): Path {
    for (let length = path.length; length > 0; length -= 1) {
      const origin = this.origins.get(JSON.stringify(path.slice(0, length)));
      if (origin !== undefined) return [...origin, ...path.slice(length)];
    }
    return path;
  }

  private parts(parts: Plain, scope: Scope, there: Map<string, readonly number[]>): Plain {
    const made: [string, unknown][] = [];
    for (const [name, part] of Object.entries(parts)) {
      const copies = this.working.copies(part, ['parts', name], scope);
      there.set(
        name,
        copies.map(({ i }) => i),
      );
      for (const copy of copies) {
        const id = this.base.repeated.get(name) === true ? copyName(name, copy.i) : name;
        made.push([id, this.moved(part, ['parts', name], ['parts', id], copy.scope)]);
      }
    }
    return Object.fromEntries(made);
  }

  /** The entries of a list that names parts: one for each copy of a repeated part, none about a part that is not there. */
  private entries(list: string, entries: readonly unknown[], names: EntryNames, scope: Scope): unknown[] {
    const made: unknown[] = [];
    entries.forEach((entry, at) => {
      for (const copy of this.working.copies(entry, [list, at], scope))
        for (const i of names.copiesOf(namedOnce(list, entry))) {
          const inside = i === undefined ? copy.scope : withCopy(copy.scope, i);
          const one = this.moved(entry, [list, at], [list, made.length], inside);
          const named = names.resolved(list, one, i);
          if (named !== undefined) made.push(named);
        }
    });
    return made;
  }

  /** The value without what says how often it is there, and a note where it comes from. */
  private moved(value: unknown, from: Path, to: Path, scope: Scope): unknown {
    this.origins.set(JSON.stringify(to), from);
    if (!isMap(value)) return this.plain(value, from, to, scope);
    const rest = Object.entries(value).filter(([key]) => key !== 'when' && key !== 'repeat');
    return this.plain(Object.fromEntries(rest), from, to, scope);
  }

  private plain(value: unknown, from: Path, to: Path, scope: Scope): unknown {
    if (!this.working.goesOn()) return undefined;
    if (typeof value === 'string') return this.working.text(value, from, scope);
    if (Array.isArray(value)) return this.list(value, from, to, scope);
    if (!isMap(value)) return value;
    const members = Object.entries(value).map(
      ([key, member]) => [key, this.plain(member, [...from, key], [...to, key], scope)] as const,
    );
    return Object.fromEntries(members);
  }

  private list(list: readonly unknown[], from: Path, to: Path, scope: Scope): unknown[] {
    const made: unknown[] = [];
    for (const [at, entry] of list.entries())
      for (const copy of this.working.copies(entry, [...from, at], scope)) {
        if (!this.working.goesOn()) return made;
        made.push(this.moved(entry, [...from, at], [...to, made.length], copy.scope));
      }
    return made;
  }
}
