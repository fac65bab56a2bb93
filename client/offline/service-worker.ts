/**
 * Keeps the app on the device, so that it opens when server or network are gone. It answers for the app's own files alone: a page is asked of
 * the server first, so nobody works with an older app than need be; a file whose name carries its hash comes from here. What the doors under
 * `/api` say never passes through it: which answers are kept is for `kept-answers.ts`, where it is known whose they are.
 *
 * Imports nothing, so that it is one file; `shell-list.ts` puts the names of the built files in place of `__SHELL__`.
 */
declare const __SHELL__: { readonly build: string; readonly files: readonly string[] };

/** What is needed of a service worker's global; the page's types know none. */
type Extendable = Event & { waitUntil(work: Promise<unknown>): void };
type Fetching = Extendable & { readonly request: Request; respondWith(answer: Promise<Response>): void };
type Scope = {
  readonly location: { readonly origin: string };
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(type: 'install' | 'activate', hear: (event: Extendable) => void): void;
  addEventListener(type: 'fetch', hear: (event: Fetching) => void): void;
};
const worker = globalThis as unknown as Scope;

const { build, files } = __SHELL__;
const CACHE = 'tarebook app ';
const OWN = CACHE + build;
const PAGE = '/';

/** A server that does not answer a page in this time is as good as gone: a network can swallow what is sent without a word. */
const PATIENCE_MS = 5000;

/** A page that is open belongs to the build before, and still loads its screens. */
const BUILDS_KEPT = 2;

worker.addEventListener('install', (event) => event.waitUntil(keep()));

worker.addEventListener('activate', (event) => event.waitUntil(takeOver()));

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== worker.location.origin) return;
  if (/^\/(?:api|trust)(?:[/.]|$)/.test(pathname)) return;
  if (request.mode === 'navigate') event.respondWith(pageFor(request));
  else if (pathname.startsWith('/assets/') || files.includes(pathname)) event.respondWith(ownFile(request));
});

/** All or nothing: with one file missing, the worker before stays in charge. `reload`: not what the browser still has of an earlier build. */
async function keep(): Promise<void> {
  const cache = await caches.open(OWN);
  await cache.addAll([PAGE, ...files].map((path) => new Request(path, { cache: 'reload' })));
  await worker.skipWaiting();
}

async function takeOver(): Promise<void> {
  const builds = (await caches.keys()).filter((name) => name.startsWith(CACHE) && name !== OWN);
  // Caches are listed in the order in which they were made.
  await Promise.all(builds.slice(0, Math.max(0, builds.length + 1 - BUILDS_KEPT)).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

async function pageFor(request: Request): Promise<Response> {
  const kept = await (await caches.open(OWN)).match(PAGE);
  if (kept === undefined) return fetch(request);
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    // Something between here and the server says that the server is gone.
    return answer.status >= 502 && answer.status <= 504 ? kept : answer;
  } catch {
    return kept;
  }
}

async function ownFile(request: Request): Promise<Response> {
  const own = await (await caches.open(OWN)).match(request, { ignoreVary: true });
  return own ?? (await caches.match(request, { ignoreVary: true })) ?? fetch(request);
}
