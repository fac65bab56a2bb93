/**
 * The server as one function from requests to answers: every door, and what holds for all of them. Knows no socket, so that a
 * test asks it as a browser would.
 */
import { OpenAPIHono } from '@hono/zod-openapi';
import { bodyLimit } from 'hono/body-limit';
import { compress } from 'hono/compress';
import { accessDoors } from './access/access-doors.ts';
import { aircraftDoors } from './aircraft/aircraft-doors.ts';
import { aircraftWeighingDoors } from './aircraft-weighing/aircraft-weighing-doors.ts';
import { ARCHIVE_PATH, archiveDoors } from './archive/archive-doors.ts';
import { actsDoor } from './audit/acts-door.ts';
import { backupDoors } from './backup/backup-doors.ts';
import { briefDoors } from './brief/brief-doors.ts';
import { briefFileDoor } from './brief/brief-file-door.ts';
import { checkpointDoor } from './checkpoint/checkpoint-door.ts';
import { type DoorApp, type DoorContext, type DoorEnv, ROLE_FIELD } from './door.ts';
import { forecastDoors } from './forecast/forecast-doors.ts';
import { healthDoor } from './health-door.ts';
import { IMPORT_PATHS, importDoors } from './import/import-doors.ts';
import { ledgerDoors } from './ledger/ledger-doors.ts';
import { overviewDoors } from './ledger/overview-doors.ts';
import { partDoors } from './ledger/part-doors.ts';
import { reportDoors } from './ledger/report-doors.ts';
import { liveDoors } from './live/live-door.ts';
import { loadingDoors } from './loading/loading-doors.ts';
import { numberRequests, tellRequests } from './log/tell-requests.ts';
import { peopleDoors } from './people/people-doors.ts';
import { sessionDoors } from './people/session-doors.ts';
import { tabletDoors } from './people/tablet-doors.ts';
import { PHOTO_PATH, photoDoors } from './photo/photo-doors.ts';
import { Problem } from './problem/problem.ts';
import { refusedShape, toProblem } from './problem/to-problem.ts';
import { proposalDoors } from './proposal/proposal-doors.ts';
import { whatIfDoors } from './proposal/what-if-doors.ts';
import type { Services } from './services.ts';
import { trustPages } from './tls/trust-pages.ts';
import { apiPage } from './web/api-page.ts';
import { clientFiles } from './web/client-files.ts';
import { sameSiteOnly, saysJson, utf8Only } from './web/same-site-only.ts';
import { securityHeaders } from './web/security-headers.ts';
import { weighingDoors } from './weighing/preview-door.ts';

const MOST_BODY_BYTES = 1_048_576;

/** By what it says of its length, beyond which nothing of it is read. Else its body is counted, for which a stream is made of it: a tenth of the work of a request. */
function isWithinLimit({ req }: DoorContext): boolean {
  if (req.header('Transfer-Encoding') !== undefined) return false;
  const length = req.header('Content-Length');
  return length === undefined ? req.method === 'GET' : Number(length) <= MOST_BODY_BYTES;
}

export function makeApp(services: Services): DoorApp {
  const app: DoorApp = new OpenAPIHono<DoorEnv>({
    defaultHook: (result) => {
      if (!result.success) throw refusedShape(result.error);
    },
  });
  app.onError((error, c) => toProblem(error, c, services.err));
  app.notFound((c) => toProblem(new Problem('not-found'), c, services.err));
  app.use(async (c, next) => {
    c.set('services', services);
    await next();
  });
  app.use(numberRequests());
  app.use(tellRequests);
  app.use(securityHeaders);
  // Left alone is the live line: packed, its messages would wait for one another.
  const pack = compress({ threshold: 2048 });
  app.use((c, next) => (c.req.path === '/api/live' ? next() : pack(c, next)));
  app.use('/api/*', async (c, next) => {
    c.header('Cache-Control', 'no-store');
    await next();
  });
  app.use('/api/*', sameSiteOnly);
  app.use('/api/*', (c, next) => (isBytes(c.req.path) ? next() : saysJson(c, next)));
  const limit = bodyLimit({
    maxSize: MOST_BODY_BYTES,
    onError: () => {
      throw new Problem('too-large');
    },
  });
  // These doors take more, and look at it themselves once they know who sends.
  const looksItself = (path: string) => IMPORT_PATHS.test(path) || isBytes(path);
  app.use('/api/*', (c, next) => (looksItself(c.req.path) || isWithinLimit(c) ? next() : limit(c, next)));
  app.use('/api/*', (c, next) => (looksItself(c.req.path) ? next() : utf8Only(c, next)));
  healthDoor(app);
  sessionDoors(app);
  peopleDoors(app);
  tabletDoors(app);
  actsDoor(app);
  aircraftDoors(app);
  accessDoors(app);
  ledgerDoors(app);
  checkpointDoor(app);
  partDoors(app);
  reportDoors(app);
  overviewDoors(app);
  forecastDoors(app);
  loadingDoors(app);
  whatIfDoors(app);
  proposalDoors(app);
  briefDoors(app);
  briefFileDoor(app);
  weighingDoors(app);
  aircraftWeighingDoors(app);
  importDoors(app);
  archiveDoors(app);
  backupDoors(app);
  photoDoors(app);
  liveDoors(app);
  app.doc31('/api/openapi.json', {
    openapi: '3.1.0',
    info: { title: 'Tarebook', version: '1', description: 'Masses in kilograms, stations in metres from the datum.' },
  });
  apiPage(app);
  if (services.trust !== undefined) trustPages(app, services.trust);
  clientFiles(app, services.clientFolder);
  mustAllHaveRoles(app);
  return app;
}

/** What is sent there is no JSON; these doors ask for their own kind. */
const isBytes = (path: string) => ARCHIVE_PATH.test(path) || PHOTO_PATH.test(path);

/** A door that does not say who may come in must never be served. */
function mustAllHaveRoles(app: DoorApp): void {
  for (const definition of app.openAPIRegistry.definitions)
    if (definition.type === 'route' && definition.route[ROLE_FIELD] === undefined)
      throw new Error(`${definition.route.method} ${definition.route.path} declares no role`);
}
