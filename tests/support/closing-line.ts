import type { Reporter, TestModule } from 'vitest/node';

/** Prints the one plain line by which a continuous-integration run is judged: `N passed, N failed`. */
export class ClosingLine implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>, unhandled: ReadonlyArray<unknown>): void {
    const count = { passed: 0, failed: unhandled.length, skipped: 0 };
    for (const module of modules) {
      if (module.errors().length > 0) count.failed += 1;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state === 'passed') count.passed += 1;
        else if (state === 'failed') count.failed += 1;
        else count.skipped += 1;
      }
    }
    const skipped = count.skipped > 0 ? `, ${count.skipped} skipped` : '';
    process.on('exit', () => console.log(`${count.passed} passed, ${count.failed} failed${skipped}`));
  }
}
