/** Ends the test run with one plain line, `N passed, N failed`, for people and for scripts that read only the end. */
import type { Reporter, TestModule } from 'vitest/node';

/** Vitest loads a reporter given by path through its default export. */
// biome-ignore lint/style/noDefaultExport: required by Vitest.
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandledErrors.length;
    for (const module of modules) {
      failed += module.errors().length;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        // Left out by name (`-t`). A test that never came to its end is none of these.
        else if (state !== 'skipped') failed += 1;
      }
    }
    process.stdout.write(`\n${passed} passed, ${failed} failed\n`);
  }
}
