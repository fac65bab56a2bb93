/** The door for whoever watches the server: it answers, and so does its database. */
import { createRoute, z } from '@hono/zod-openapi';
import { sql } from 'kysely';
import { type DoorApp, json, needs, REFUSED } from './door.ts';

const health = createRoute({
  method: 'get',
  path: '/api/health',
  summary: 'Whether the server and its database answer',
  ...needs('public'),
  responses: { 200: json(z.object({ ok: z.literal(true) }), 'Both answer'), ...REFUSED },
});

export function healthDoor(app: DoorApp): void {
  app.openapi(health, async (c) => {
    await sql`select 1`.execute(c.get('services').db);
    return c.json({ ok: true } as const, 200);
  });
}
