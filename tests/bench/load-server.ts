/** The real server as a process of its own, for the bench of load, and a person signed in to it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { Agent, request } from 'node:http';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { StorePlace } from '#db/engine/open-store.ts';

export type Reply = { readonly status: number; readonly text: string };

export class LoadServer {
  readonly #child: ChildProcess;
  readonly #agent = new Agent({ keepAlive: true, maxSockets: 64 });
  readonly port: number;
  readonly startMs: number;
  readonly code: string | undefined;
  cookie = '';

  private constructor(child: ChildProcess, told: { port: number; startMs: number; code: string | undefined }) {
    this.#child = child;
    this.port = told.port;
    this.startMs = told.startMs;
    this.code = told.code;
  }

  static async start(place: StorePlace): Promise<LoadServer> {
    const began = performance.now();
    const env: NodeJS.ProcessEnv = { ...process.env };
    if (place.kind === 'postgres') env['DATABASE_URL'] = place.url;
    const words = place.kind === 'folder' ? ['--data', place.path] : [];
    const file = join(import.meta.dirname, '../../api/server.ts');
    const child = spawn(process.execPath, [file, '--port', '0', ...words], {
      env,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let said = '';
    child.stdout.on('data', (chunk) => {
      said += String(chunk);
    });
    const portIn = () => /:(\d+)\/?\s/.exec(said)?.[1];
    while (portIn() === undefined) {
      if (child.exitCode !== null) throw new Error(`the server did not start: ${said}`);
      await sleep(5);
    }
    const startMs = performance.now() - began;
    // A code is shown right behind the address, where there is no account yet.
    await sleep(1_000);
    return new LoadServer(child, {
      port: Number(portIn()),
      startMs,
      code: /\b([A-Z2-9]{4}-[A-Z2-9]{4})\b/.exec(said)?.[1],
    });
  }

  ask(method: string, path: string, body?: object): Promise<Reply> {
    return new Promise((resolve, reject) => {
      const headers = { Cookie: this.cookie, ...(body === undefined ? {} : { 'Content-Type': 'application/json' }) };
      const asked = request({ port: this.port, agent: this.#agent, method, path, headers }, (answer) => {
        let text = '';
        answer.setEncoding('utf8').on('data', (chunk: string) => {
          text += chunk;
        });
        answer.on('end', () => {
          const given = answer.headers['set-cookie']?.[0]?.split(';')[0];
          if (given !== undefined) this.cookie = given;
          resolve({ status: answer.statusCode ?? 0, text });
        });
      });
      asked.on('error', reject).end(body === undefined ? undefined : JSON.stringify(body));
    });
  }

  /** A reply that must be taken, read. */
  async must(method: string, path: string, body?: object): Promise<Record<string, unknown>> {
    const { status, text } = await this.ask(method, path, body);
    if (status >= 300) throw new Error(`${method} ${path}: ${status} ${text.slice(0, 300)}`);
    return JSON.parse(text) as Record<string, unknown>;
  }

  /** The live line; `heard` is called with each message. Answers how to hang up. */
  listen(heard: (message: string) => void): Promise<() => void> {
    return new Promise((resolve, reject) => {
      const line = request({ port: this.port, path: '/api/live', headers: { Cookie: this.cookie } }, (answer) => {
        answer.setEncoding('utf8').on('data', heard);
        resolve(() => line.destroy());
      });
      line.on('error', reject).end();
    });
  }

  /** Resident memory, in megabytes; undefined where the system does not tell. */
  get pid() {
    return this.#child.pid;
  }

  residentMb(): number | undefined {
    try {
      const kilobytes = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${this.#child.pid}/status`, 'utf8'))?.[1];
      return kilobytes === undefined ? undefined : Number(kilobytes) / 1024;
    } catch {
      return undefined;
    }
  }

  async stop(): Promise<void> {
    this.#agent.destroy();
    this.#child.kill('SIGTERM');
    await once(this.#child, 'exit');
  }
}
