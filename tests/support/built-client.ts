/** Builds the browser app once before the browser tests, as `npm start` does, and makes sure that there is a browser. */
import { execFileSync } from 'node:child_process';
import type { TestProject } from 'vitest/node';
import { findChromium } from './chromium.ts';

export function setup({ provide }: TestProject): void {
  provide('chromiumPath', findChromium());
  execFileSync('npx', ['vite', 'build', 'client', '--logLevel', 'warn'], {
    // The test runner's own NODE_ENV would build the app as for development.
    env: { ...process.env, NODE_ENV: 'production' },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
}

declare module 'vitest' {
  interface ProvidedContext {
    chromiumPath: string;
  }
}
