/** The door to the live line: server-sent events, one message for each new entry on an aircraft that the person may see. */
import { createRoute, z } from '@hono/zod-openapi';
import { type DoorApp, needs, REFUSED } from '#api/door.ts';

const live = createRoute({
  method: 'get',
  path: '/api/live',
  summary: 'A line that tells of new entries as they are recorded: { aircraftId, seq }',
  ...needs('viewer'),
  responses: {
    200: { description: 'Server-sent events', content: { 'text/event-stream': { schema: z.string() } } },
    ...REFUSED,
  },
});

export function liveDoors(app: DoorApp): void {
  app.openapi(live, (c) => {
    const hash = c.get('tokenHash');
    if (hash === undefined) throw new Error('this door has been kept');
    const headers = {
      'Content-Type': 'text/event-stream; charset=utf-8',
      'Cache-Control': 'no-store, no-transform',
      'X-Accel-Buffering': 'no',
    };
    // Who asks for the head alone never reads the line, and would leave it open.
    return c.req.method === 'HEAD'
      ? c.body(null, 200, headers)
      : c.body(c.get('services').lines.open(hash), 200, headers);
  });
}
