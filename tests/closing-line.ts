import type { Reporter, TestModule } from 'vitest/node';

/** Prints the plain closing line "tests: N passed, N failed, N skipped" that build machines count. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const count = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) count[test.result().state]++;
      count.failed += module.errors().length;
    }
    count.failed += unhandledErrors.length;
    console.log(
      `tests: ${count.passed} passed, ${count.failed} failed, ${count.skipped + count.pending} skipped`,
    );
  }
}
