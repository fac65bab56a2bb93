/**
 * The server's app, made from its services so that tests can call it without a socket. What holds for every request stands here, in
 * order of precedence: where it comes from, what it says it is, how large it is. Who may come in stands with each door.
 */
import { OpenAPIHono } from '@hono/zod-openapi';
import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { NONCE, secureHeaders } from 'hono/secure-headers';
import { aircraftDoors } from './aircraft/aircraft-doors.ts';
import type { DoorApp, DoorEnv } from './door.ts';
import { ledgerDoors } from './ledger/ledger-doors.ts';
import { liveDoors } from './live/live-door.ts';
import { peopleDoors } from './people/people-doors.ts';
import { sessionDoors } from './people/session-doors.ts';
import { Problem } from './problem/problem.ts';
import { refusedShape, toProblem } from './problem/to-problem.ts';
import type { Services } from './services.ts';
import { webDoors } from './web/web-doors.ts';
import { weighingDoors } from './weighing/preview-door.ts';

const MOST_BODY_BYTES = 1_048_576;
const SAFE_METHODS: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS']);

export function makeApp(services: Services): DoorApp {
  const app: DoorApp = new OpenAPIHono<DoorEnv>({
    defaultHook: (result) => {
      if (!result.success) throw refusedShape(result.error);
    },
  });
  app.onError((error, c) => toProblem(error, c, services.err));
  app.use('*', async (c, next) => {
    c.set('services', services);
    await next();
  });
  app.use('*', headers());
  app.use('/api/*', fromThisSite, saysJson, notTooLarge());
  app.use('/api/*', async (c, next) => {
    await next();
    if (!c.res.headers.has('Cache-Control')) c.res.headers.set('Cache-Control', 'no-store');
  });
  sessionDoors(app);
  peopleDoors(app);
  aircraftDoors(app);
  ledgerDoors(app);
  weighingDoors(app);
  liveDoors(app);
  app.doc31('/api/openapi.json', { openapi: '3.1.0', info: { title: 'Tarebook', version: '1' } });
  webDoors(app, services.clientFolder);
  return app;
}

/** Only this server's own files run in its pages, and no other page may frame them. */
function headers(): MiddlewareHandler<DoorEnv> {
  return secureHeaders({
    contentSecurityPolicy: {
      defaultSrc: ["'self'"],
      scriptSrc: ["'self'"],
      // The style elements that React Aria makes at run time carry the page's nonce.
      styleSrc: ["'self'", NONCE],
      imgSrc: ["'self'", 'data:', 'blob:'],
      connectSrc: ["'self'"],
      workerSrc: ["'self'"],
      objectSrc: ["'none'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
    xFrameOptions: 'DENY',
    referrerPolicy: 'no-referrer',
    // Plain http on the shop's own network is allowed; who serves TLS decides on this header in front of it.
    strictTransportSecurity: false,
    crossOriginOpenerPolicy: 'same-origin',
  });
}

/** A page of another site may not act in the name of who is signed in here. The session cookie's SameSite is the other wall. */
const fromThisSite: MiddlewareHandler<DoorEnv> = async (c, next) => {
  if (!SAFE_METHODS.has(c.req.method)) {
    const site = c.req.header('Sec-Fetch-Site');
    const origin = c.req.header('Origin');
    const isOther = site !== undefined && site !== 'same-origin' && site !== 'none';
    if (isOther || (origin !== undefined && hostOf(origin) !== c.req.header('Host'))) throw new Problem('other-site');
  }
  await next();
};

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined;
}

const saysJson: MiddlewareHandler<DoorEnv> = async (c, next) => {
  const type = c.req.header('Content-Type');
  if (!SAFE_METHODS.has(c.req.method) && !/^application\/json\s*(;|$)/i.test(type ?? ''))
    throw new Problem('media-type');
  await next();
};

function notTooLarge(): MiddlewareHandler<DoorEnv> {
  return bodyLimit({
    maxSize: MOST_BODY_BYTES,
    onError: () => {
      throw new Problem('too-large');
    },
  });
}
