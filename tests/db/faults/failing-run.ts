/** Child of the exit-code test: starts and stops the test server as a run does, and ends as a failed run ends. */
import { setup } from '#tests/support/postgres-server.ts';

type Project = Parameters<typeof setup>[0];

// Only `provide` is used of the project.
const project = { provide: () => undefined } satisfies Partial<Project>;
const stop = await setup(project as unknown as Project);
await stop?.();
process.exitCode = 3;
