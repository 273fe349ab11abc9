import type { Program } from './concurrent-program.js';
import type { HappensBefore } from './happens-before.js';

/**
 * Which positions of programs (events done of each) can be at the same time: those in which nobody is ahead of what must
 * come before (consistent cuts; Mattern 1989). Positions that can be together pair by pair can be so all at once.
 */
export class ConsistentCuts {
  /** By program, position and other program: least and greatest position of the other meanwhile. */
  private readonly least: readonly (readonly number[])[][];
  private readonly most: readonly (readonly number[])[][];

  constructor(
    private readonly programs: readonly Program[],
    order: HappensBefore,
  ) {
    this.least = programs.map((own, program) => this.needed(own, program, order));
    this.most = programs.map((own, program) => this.allowed(own, program));
  }

  /** The others as far behind, and as far ahead, as they can be with one program at a position. */
  behind(program: number, position: number): readonly number[] {
    return this.least[program]![position]!;
  }

  ahead(program: number, position: number): readonly number[] {
    return this.most[program]![position]!;
  }

  /**
   * Gives every pair of positions of every two programs that can be together, any other program once as far behind
   * and once as far ahead as the pair lets it be: with two programs, every position of both. The array is reused.
   */
  each(visit: (positions: readonly number[]) => void): void {
    const count = this.programs.length;
    if (count === 1) for (let p = 0; p <= this.programs[0]!.length; p += 1) visit([p]);
    for (let a = 0; a < count; a += 1)
      for (let b = a + 1; b < count; b += 1)
        for (let p = 0; p <= this.programs[a]!.length; p += 1)
          for (let q = this.behind(a, p)[b]!; q <= this.ahead(a, p)[b]!; q += 1) this.pair(a, p, b, q, visit);
  }

  private pair(
    a: number,
    p: number,
    b: number,
    q: number,
    visit: (positions: readonly number[]) => void,
  ): void {
    const [downA, downB] = [this.behind(a, p), this.behind(b, q)];
    const low = downA.map((value, i) => Math.max(value, downB[i]!));
    visit(low);
    if (this.programs.length === 2) return;
    const [upA, upB] = [this.ahead(a, p), this.ahead(b, q)];
    const high = upA.map((value, i) => Math.min(value, upB[i]!));
    if (high.some((value, i) => value !== low[i])) visit(high);
  }

  private needed(own: Program, program: number, { before }: HappensBefore): (readonly number[])[] {
    const done = this.programs.map(() => 0);
    const rows: (readonly number[])[] = [[...done]];
    own.forEach((_, event) => {
      this.programs.forEach((other, p) => {
        if (p === program) done[p] = event + 1;
        else
          while (done[p]! < other.length && before({ program: p, event: done[p]! }, { program, event }))
            done[p]! += 1;
      });
      rows.push([...done]);
    });
    return rows;
  }

  /** How far others get before they need more of this program than it has done. */
  private allowed(own: Program, program: number): (readonly number[])[] {
    const at = this.programs.map(() => 0);
    return Array.from({ length: own.length + 1 }, (_, position) => {
      this.programs.forEach((other, p) => {
        if (p === program) at[p] = position;
        else while (at[p]! < other.length && this.least[p]![at[p]! + 1]![program]! <= position) at[p]! += 1;
      });
      return [...at];
    });
  }
}
