/**
 * Child processes of tests: a TypeScript file of this repository, run by the same Node, its output read line by line.
 * A child does not outlive its test, so that a failing one leaves nothing behind that holds a folder.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';

export type TestChild = {
  process: ChildProcess;
  /** What it has said so far, line by line. */
  lines: string[];
  /** What it has said on the other stream. */
  complaints(): string;
  /** Its exit code, once it is gone and everything it said is read; null where a signal ended it. */
  ended: Promise<number | null>;
  /** Waits until it has said `count` lines; throws with its complaints if it ends before. */
  said(count: number): Promise<void>;
  /** Waits until what it has said is as `is` wants it; throws as above. */
  until(is: (lines: readonly string[]) => boolean): Promise<void>;
  /** SIGKILL, and waits until it is gone and everything it said is read. */
  kill(): Promise<void>;
};

export function startChild(
  file: string,
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
): TestChild {
  const child = spawn(process.execPath, [file, ...args], {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  onTestFinished(() => {
    child.kill('SIGKILL');
  });
  const lines: string[] = [];
  let complaints = '';
  let ended = false;
  let wake: () => void = () => undefined;
  child.stderr.on('data', (chunk) => {
    complaints += String(chunk);
  });
  createInterface({ input: child.stdout }).on('line', (line) => {
    lines.push(line);
    wake();
  });
  // 'close' comes after the last byte of its output.
  const gone = new Promise<number | null>((resolve) => {
    child.once('close', (code) => {
      ended = true;
      wake();
      resolve(code);
    });
  });
  const until = async (is: (said: readonly string[]) => boolean) => {
    while (!is(lines)) {
      if (ended) throw new Error(`The child ended after ${lines.length} lines. ${complaints}`);
      await new Promise<void>((resolve) => {
        wake = resolve;
      });
    }
  };
  return {
    process: child,
    lines,
    complaints: () => complaints,
    ended: gone,
    until,
    said: (count) => until((said) => said.length >= count),
    async kill() {
      child.kill('SIGKILL');
      await gone;
    },
  };
}
