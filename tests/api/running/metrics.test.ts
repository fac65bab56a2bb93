/** The figures for a monitor. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { newId } from '#tests/api/door-shop.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { beginAircraft, firstLead, sendJson, startServerProcess } from '#tests/support/server-process.ts';

const PART = { kind: 'part added', number: 'W-1', name: 'Skin', group: 'wing', process: 'prepreg' };

it('[Y3] they count requests, entries, ledgers, lines and connections, at an address that serves nothing else', async () => {
  const url = await makeDatabase();
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-metrics-'));
  const server = startServerProcess(
    ['--port', '0', '--metrics-port', '0', '--backup-hours', '24', '--backup-folder', folder],
    { DATABASE_URL: url },
  );
  try {
    const cookie = await firstLead(server);
    const at = await server.address();
    const [, figuresAt = ''] = await server.until(/monitor are at (http:\/\/127\.0\.0\.1:\d+)\/metrics/);
    const figures = async () => {
      const lines = (await (await fetch(`${figuresAt}/metrics`)).text()).split('\n');
      return (name: string) => Number(lines.find((line) => line.startsWith(`${name} `))?.split(' ')[1]);
    };
    const id = await beginAircraft(at, cookie);
    const before = await figures();
    const body = { id: newId(), ...PART };
    // A repeat is answered and is no second entry.
    for (const status of [201, 200])
      expect((await sendJson(`${at}/api/aircraft/${id}/entries`, { cookie, body })).status).toBe(status);
    const line = await fetch(`${at}/api/live`, { headers: { Cookie: cookie } });
    const after = await figures();
    const recorded = (figure: (name: string) => number) => figure('tarebook_entries_recorded_total');
    expect(recorded(after) - recorded(before)).toBe(1);
    expect(after('tarebook_ledgers_in_memory')).toBe(1);
    expect(after('tarebook_live_lines_open')).toBe(1);
    expect(after('tarebook_database_connections')).toBeGreaterThan(0);
    expect(after('nodejs_eventloop_lag_seconds')).toBeGreaterThanOrEqual(0);
    expect(after('nodejs_heap_size_used_bytes')).toBeGreaterThan(1_000_000);
    const asked = 'method="POST",route="/api/aircraft/:aircraftId/entries"';
    expect(after(`tarebook_request_duration_seconds_count{${asked},status="201"}`)).toBe(1);
    expect(after(`tarebook_request_duration_seconds_count{${asked},status="200"}`)).toBe(1);
    expect(after('tarebook_backup_made')).toBe(1);
    await line.body?.cancel();

    expect((await fetch(`${figuresAt}/api/session`)).status).toBe(404);
    expect((await fetch(`${at}/metrics`)).headers.get('content-type')).not.toContain('version=0.0.4');
    expect(await server.stop()).toBe(0);
  } finally {
    await server.kill();
    await removePlace({ kind: 'postgres', url });
    await rm(folder, { recursive: true, force: true });
  }
});
