/**
 * For the build: puts the names of all built files into the service worker, which keeps them on the device, and gives the build a name, by
 * which a page that has been open for long sees that the server has a newer app. The name is made of all files' names, which carry a hash of
 * their content, and of the content of those that carry none.
 */
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { createHash } from 'node:crypto';
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { readdirSync, readFileSync } from 'node:fs';
import type { Plugin } from 'vite';

export const WORKER_FILE = 'service-worker.js';

const PAGE_FILE = 'index.html';
const NAME_PLACE = '__BUILD__';

export function shellList(publicFolder: string): Plugin {
  return {
    name: 'shell-list',
    // The page itself is among the files only after everybody else is done.
    enforce: 'post',
    generateBundle(_options, bundle) {
      const worker = bundle[WORKER_FILE];
      const page = bundle[PAGE_FILE];
      if (worker?.type !== 'chunk' || page?.type !== 'asset')
        throw new Error('the build has no service worker or no page');
      const built = Object.keys(bundle).filter((name) => name.startsWith('assets/') && !name.endsWith('.map'));
      const given = readdirSync(publicFolder).sort();
      const files = [...built, ...given].map((name) => `/${name}`).sort();
      const hash = createHash('sha256').update(JSON.stringify(files)).update(page.source).update(worker.code);
      for (const name of given) hash.update(readFileSync(`${publicFolder}/${name}`));
      const build = hash.digest('hex').slice(0, 16);
      worker.code = worker.code.replace('__SHELL__', () => JSON.stringify({ build, files }));
      page.source = String(page.source).replace(NAME_PLACE, build);
      this.emitFile({ type: 'asset', fileName: 'build.json', source: JSON.stringify({ build }) });
    },
  };
}
