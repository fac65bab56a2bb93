/** The pages: the built browser app, and a readable page of the doors under /api. Whatever else is asked for is not here. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { html } from 'hono/html';
import { z } from 'zod';
import { type DoorApp, ROLE_FIELD } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';

const Documented = z.record(
  z.string(),
  z.record(z.string(), z.object({ summary: z.string().optional(), [ROLE_FIELD]: z.string() })),
);

export function webDoors(app: DoorApp, clientFolder: string): void {
  app.get('/api', (c) => {
    const { paths } = app.getOpenAPI31Document({ openapi: '3.1.0', info: { title: 'Tarebook', version: '1' } });
    const doors = Object.entries(Documented.parse(paths)).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, door]) => ({ path, method: method.toUpperCase(), ...door })),
    );
    return c.html(html`<!doctype html>
      <html lang="en">
        <head><meta charset="utf-8" /><title>Tarebook: the doors of the server</title></head>
        <body>
          <h1>The doors of the server</h1>
          <p>Requests and replies in full: <a href="/api/openapi.json">/api/openapi.json</a> (OpenAPI 3.1). What is refused is
          told as application/problem+json (RFC 9457).</p>
          <table>
            <thead><tr><th>Door</th><th>Who may</th><th>What it does</th></tr></thead>
            <tbody>
              ${doors.map(
                (door) =>
                  html`<tr><td><code>${door.method} ${door.path}</code></td><td>${door[ROLE_FIELD]}</td><td>${door.summary ?? ''}</td></tr>`,
              )}
            </tbody>
          </table>
        </body>
      </html>`);
  });
  app.all('/api/*', () => {
    throw new Problem('not-found');
  });
  const page = join(clientFolder, 'index.html');
  app.get('/assets/*', async (c, next) => {
    await next();
    // The name of an asset changes with its content.
    if (c.res.ok) c.res.headers.set('Cache-Control', 'public, max-age=31536000, immutable');
  });
  app.get('*', serveStatic({ root: clientFolder, rewriteRequestPath: (path) => (path === '/' ? '/none' : path) }));
  app.get('*', async (c) => {
    if (c.req.path.startsWith('/assets/')) throw new Problem('not-found');
    if (!existsSync(page)) return c.text('The browser app has not been built: start the server with npm start.', 503);
    c.header('Cache-Control', 'no-cache');
    return c.html(await readFile(page, 'utf8'));
  });
  app.all('*', () => {
    throw new Problem('not-found');
  });
}
