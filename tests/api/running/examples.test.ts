/** The examples of running it: the container's own commands in a folder of its own, and the unit as its supervisor reads it. */
import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, cp, mkdir, mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { strangersIn } from '#api/server-settings.ts';
import { startServerProcess } from '#tests/support/server-process.ts';

const ROOT = join(import.meta.dirname, '../../..');
const run = promisify(execFile);

it('[Y4] what the container copies is enough to start, as a user without rights, and its own check finds it ready', {
  timeout: 120_000,
}, async () => {
  const text = (await readFile(join(ROOT, 'api/examples/Containerfile'), 'utf8')).replaceAll('\\\n', ' ');
  const linesOf = (word: string) =>
    text
      .split('\n')
      .filter((line) => line.startsWith(`${word} `))
      .map((line) => line.slice(word.length + 1));
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-container-'));
  const volume = join(folder, 'volume');
  await chmod(folder, 0o755);
  await mkdir(volume, { mode: 0o777 });
  await chmod(volume, 0o777);
  for (const words of linesOf('COPY').map((line) => line.split(' '))) {
    const to = words.at(-1) ?? '';
    for (const from of words.slice(0, -1))
      await cp(join(ROOT, from), join(folder, to === './' ? from : to), { recursive: true });
  }
  await symlink(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  const settings = linesOf('ENV').flatMap((line) => [...line.matchAll(/([A-Z_]+)=(\S+)/g)]);
  // What is handed in when it is built is left out.
  const env = Object.fromEntries(
    settings.map(([, name = '', value = '']) => [
      name,
      value.replace('/var/lib/tarebook', volume).replace(/^\$.*/, ''),
    ]),
  );
  expect(strangersIn(env)).toEqual([]);
  expect(linesOf('USER')).toEqual(['node']);
  const [command = ''] = linesOf('CMD');
  const [, check = ''] = linesOf('HEALTHCHECK').map((line) => line.split('CMD '))[0] ?? [];
  // Not as who may do everything, where the test is started so.
  const nobody = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};
  const [, file = ''] = JSON.parse(command) as string[];
  const server = startServerProcess(['--port', '0'], env, [process.execPath, file], { cwd: folder, ...nobody });
  try {
    const [, port = ''] = await server.until(/Tarebook is at http:..localhost:(\d+)/);
    const [, ...args] = (JSON.parse(check) as string[]).map((word) => word.replace(':8420', `:${port}`));
    await run(process.execPath, args, { cwd: folder });
    expect(existsSync(join(volume, 'data'))).toBe(true);
    expect(await server.stop()).toBe(0);
    for (const line of server.said().trim().split('\n')) expect(JSON.parse(line)).toHaveProperty('level');
    await expect(run(process.execPath, args, { cwd: folder })).rejects.toThrow();
  } finally {
    await server.kill();
    await rm(folder, { recursive: true, force: true });
  }
});

it('[Y4] the unit names settings that there are, waits for a stop that takes its time, and is sound to its supervisor', async () => {
  const unit = await readFile(join(ROOT, 'api/examples/tarebook.service'), 'utf8');
  const settings = [...unit.matchAll(/^Environment=(\w+)=/gm)].map(([, name = '']) => [name, 'x']);
  expect(settings.length).toBeGreaterThan(2);
  expect(strangersIn(Object.fromEntries(settings))).toEqual([]);
  expect(Number(/^TimeoutStopSec=(\d+)$/m.exec(unit)?.[1])).toBeGreaterThan(20);
  expect(unit).toMatch(/^DynamicUser=yes$/m);
  // Where it is not there, what it would say cannot be had.
  if (!existsSync('/usr/bin/systemd-analyze')) return;
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-unit-'));
  const file = join(folder, 'tarebook.service');
  await writeFile(
    file,
    unit.replaceAll('/opt/tarebook/node_modules/.bin/node', process.execPath).replaceAll('/opt/tarebook', ROOT),
  );
  const { stdout, stderr } = await run('systemd-analyze', ['verify', file]);
  expect(`${stdout}${stderr}`).not.toContain('tarebook.service');
  await rm(folder, { recursive: true, force: true });
});
