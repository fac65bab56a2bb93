/** Console output fails the test that makes it: what the product prints goes through a stream the test can read. */
for (const method of ['log', 'info', 'warn', 'error', 'debug'] as const) {
  console[method] = (...said: unknown[]) => {
    throw new Error(`console.${method} in a test: ${said.map(String).join(' ')}`);
  };
}
