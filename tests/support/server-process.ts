/** The server as a process of its own, as a shop starts it: spoken to over sockets, stopped or killed with a signal. */
import { type ChildProcess, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect } from 'vitest';

const SERVER = join(import.meta.dirname, '../../api/server.ts');

export type ServerProcess = {
  readonly child: ChildProcess;
  /** All that it has said, on both streams. */
  said(): string;
  /** Waits until it has said this; throws with what it said if it ends before. */
  until(what: RegExp): Promise<RegExpExecArray>;
  /** Where it listens, once it does. */
  address(): Promise<string>;
  /** Its exit status, once it has ended and all it said has been read. */
  readonly ended: Promise<number | null>;
  /** SIGTERM, and its exit status. */
  stop(): Promise<number | null>;
  kill(): Promise<number | null>;
};

export function startServerProcess(
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
  command: readonly string[] = [process.execPath, SERVER],
  as: { readonly cwd?: string; readonly uid?: number; readonly gid?: number } = {},
): ServerProcess {
  const [program = '', ...before] = command;
  const child = spawn(program, [...before, ...args], {
    ...as,
    env: { ...process.env, DATABASE_URL: '', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let text = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk) => {
      text += String(chunk);
    });
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  const until = async (what: RegExp) => {
    for (let tries = 0; tries < 1_800; tries += 1) {
      const found = what.exec(text);
      if (found !== null) return found;
      if (child.exitCode !== null || child.signalCode !== null) break;
      await sleep(50);
    }
    child.kill('SIGKILL');
    throw new Error(`the server said only: ${text}`);
  };
  const end = (signal: NodeJS.Signals) => {
    child.kill(signal);
    return ended;
  };
  return {
    child,
    said: () => text,
    until,
    address: async () => (await until(/Tarebook is at (https?:\/\/[^/\s]+)\//))[1] ?? '',
    ended,
    stop: () => end('SIGTERM'),
    kill: () => end('SIGKILL'),
  };
}

/** The first account of a new store, made with the code that the server shows; answers the cookie of its session. */
export async function firstLead(server: ServerProcess): Promise<string> {
  const [, code = ''] = await server.until(/first one: ([A-Z0-9]{4}-[A-Z0-9]{4})/);
  const made = await fetch(`${await server.address()}/api/first-run`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ code, name: 'Ann', initials: 'AN', password: 'a long enough password' }),
  });
  if (made.status !== 201) throw new Error(`no first account: ${await made.text()}`);
  return made.headers.get('set-cookie')?.split(';')[0] ?? '';
}

/** Sends JSON as the session of `cookie`; answers status and what was answered, parsed. */
export async function sendJson(
  url: string,
  { cookie, body, headers }: { cookie?: string; body?: unknown; headers?: Readonly<Record<string, string>> },
): Promise<{ status: number; headers: Headers; body: unknown }> {
  const answer = await fetch(url, {
    method: body === undefined ? 'GET' : 'POST',
    headers: {
      ...(cookie === undefined ? {} : { Cookie: cookie }),
      ...(body === undefined ? {} : { 'Content-Type': 'application/json' }),
      ...headers,
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await answer.text();
  return { status: answer.status, headers: answer.headers, body: text === '' ? undefined : JSON.parse(text) };
}

/** Begins an aircraft through the door; answers its id. */
export async function beginAircraft(at: string, cookie: string): Promise<string> {
  const body = { name: `Aircraft ${randomUUID()}`, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' };
  const made = await sendJson(`${at}/api/aircraft`, { cookie, body });
  if (made.status !== 201) throw new Error(`no aircraft: ${JSON.stringify(made.body)}`);
  return (made.body as { id: string }).id;
}

/** The answer must be a refusal of this status and code. */
export function mustBeRefused(
  answer: { readonly status: number; readonly body: unknown },
  status: number,
  code: string,
): void {
  expect(answer).toMatchObject({ status, body: { code } });
}
