/**
 * The one door to the server: every reply is parsed with the shared schemas, and every refusal becomes a `ProblemError` with words
 * a person can act on. Knows nothing of screens.
 */

import { z } from 'zod';
import { ProblemReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';

/** A refusal in the server's words, or the want of a server. */
export class ProblemError extends Error {
  readonly report: ProblemReport;

  constructor(report: ProblemReport) {
    super(report.detail);
    this.report = report;
  }

  /** The problem of one field, by the JSON Pointer of that field. */
  of(pointer: string): string | undefined {
    const problem = this.report.problems?.find((one) => one.pointer === pointer);
    return problem === undefined ? undefined : `${problem.words} ${problem.remedy}`;
  }
}

/** Called when the server says that nobody is signed in (any more). */
let whenSignedOut: () => void = () => undefined;

export function onSignedOut(act: () => void): void {
  whenSignedOut = act;
}

type Ask<Schema extends z.ZodType> = {
  readonly method?: 'GET' | 'POST' | 'PATCH';
  readonly body?: unknown;
  readonly reply: Schema;
  readonly signal?: AbortSignal | undefined;
  /** The id of the person it is meant for: refused where somebody else is signed in by now. */
  readonly asPerson?: string;
};

/** Asks for a file; throws `ProblemError` where none comes. */
export async function askFile(path: string): Promise<Blob> {
  const response = await send(path, { reply: z.unknown() });
  if (response.ok) return response.blob();
  const problem = ProblemReport.safeParse(await response.json().catch(() => undefined));
  if (response.status === 401) whenSignedOut();
  throw new ProblemError(problem.success ? problem.data : wordless(response));
}

/** Asks the server; answers the parsed reply. Throws `ProblemError`. */
export async function ask<Schema extends z.ZodType>(path: string, request: Ask<Schema>): Promise<z.infer<Schema>> {
  const response = await send(path, request);
  const body: unknown = response.status === 204 ? undefined : await response.json().catch(() => NOT_JSON);
  if (response.ok && body === NOT_JSON) throw new ProblemError(unreachable('The answer did not come whole.'));
  if (response.ok) return request.reply.parse(body);
  const problem = ProblemReport.safeParse(body);
  if (response.status === 401 && path !== '/api/sign-in') whenSignedOut();
  throw new ProblemError(problem.success ? problem.data : wordless(response));
}

/** Its number, where it has one, is what whoever runs the server asks for. */
function wordless({ status, headers }: Response): ProblemReport {
  const number = headers.get('x-request-id');
  return unreachable(`The server answered ${status} and no words${number === null ? '' : ` (request ${number})`}.`);
}

/** Broken off on its way, or put in the server's place by something in between. */
const NOT_JSON = Symbol('not JSON');

async function send(path: string, request: Ask<z.ZodType>): Promise<Response> {
  try {
    return await fetch(path, {
      method: request.method ?? 'GET',
      headers: {
        ...(request.body === undefined ? {} : { 'content-type': typeOf(request.body) }),
        ...(request.asPerson === undefined ? {} : { 'tarebook-person': request.asPerson }),
      },
      ...(request.body === undefined ? {} : { body: textOf(request.body) }),
      ...(request.signal === undefined ? {} : { signal: request.signal }),
      credentials: 'same-origin',
    });
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    throw new ProblemError(unreachable('The server cannot be reached.'));
  }
}

/** A file goes as it is. */
const typeOf = (body: unknown) => (body instanceof Blob ? body.type : 'application/json');
const textOf = (body: unknown) => (body instanceof Blob ? body : JSON.stringify(body));

export function unreachable(detail: string): ProblemReport {
  return {
    type: 'about:blank',
    title: say`No answer`,
    status: 0,
    detail,
    code: 'unreachable',
    remedy: say`Nothing is lost here: try again when the network is back.`,
  };
}

/** The words and the remedy of whatever went wrong, every problem of it. */
export function wordsOf(error: unknown): string {
  if (!(error instanceof ProblemError)) return say`Something broke in this page. Reload it; nothing recorded is lost.`;
  const { detail, remedy, problems } = error.report;
  if (problems !== undefined && problems.length > 0)
    return problems.map((problem) => `${problem.words} ${problem.remedy}`).join(' ');
  return `${detail} ${remedy}`;
}

/** A random id (UUID version 4). Works on a plain http page too, where `crypto.randomUUID` is missing. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
