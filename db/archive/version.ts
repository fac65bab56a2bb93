/** The version of this program, as `package.json` has it. */
import { readFileSync } from 'node:fs';

export const VERSION: string = versionOf(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));

function versionOf(text: string): string {
  const read = JSON.parse(text) as { version?: unknown };
  if (typeof read.version !== 'string') throw new Error('package.json names no version');
  return read.version;
}
