/** Serves the figures, and nothing else, at an address of their own: who may see them is for the network to say. */
import { Hono } from 'hono';
import type { Metrics } from './metrics.ts';

export function metricsApp(metrics: Metrics): Hono {
  const app = new Hono();
  app.get('/metrics', async (c) => {
    const { type, text } = await metrics.text();
    return c.body(text, 200, { 'Content-Type': type, 'Cache-Control': 'no-store' });
  });
  app.notFound((c) => c.text('Only /metrics is served here.\n', 404));
  return app;
}
