#!/usr/bin/env node
/*
 * Starts the command. Written so that an old Node can read it: it runs the product on the Node that came with the
 * dependencies, which reads TypeScript as it stands, unless the Node at hand is that one already.
 */
import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const main = join(dirname(fileURLToPath(import.meta.url)), 'start.ts');

if (Number(process.versions.node.split('.')[0]) >= 24) {
  await import('./start.ts');
} else {
  const bundled = join(dirname(createRequire(import.meta.url).resolve('node/package.json')), 'bin', 'node');
  const child = spawn(bundled, [main, ...process.argv.slice(2)], { stdio: 'inherit' });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
  child.on('error', (error) => {
    process.stderr.write(`Tarebook needs its own Node: run npm ci in its folder. (${error.message})\n`);
    process.exitCode = 3;
  });
  child.on('exit', (code, signal) => {
    if (signal !== null) process.kill(process.pid, signal);
    process.exitCode = code ?? 3;
  });
}
