import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with the one line that people and machines look for: `N passed, N failed`. */
class ClosingLine implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>): void {
    let passed = 0;
    let failed = 0;
    let skipped = 0;
    for (const module of modules) {
      if (module.errors().length > 0) failed += 1;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        else if (state === 'failed') failed += 1;
        else skipped += 1;
      }
    }
    const line = `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
    // On a line of its own, after whatever the other reporters print.
    process.on('exit', () => console.log(`\n${line}`));
  }
}

// biome-ignore lint/style/noDefaultExport: Vitest loads a reporter by its default export.
export default ClosingLine;
