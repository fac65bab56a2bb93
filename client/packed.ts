/**
 * Packs the built files once, so that the server need not pack them for each device that comes: `x.js.br` beside `x.js`.
 * Brotli (RFC 7932); a browser that does not take it gets the file itself.
 */
import { readFile, writeFile } from 'node:fs/promises';
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { join } from 'node:path';
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { promisify } from 'node:util';
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { brotliCompress, constants } from 'node:zlib';
import type { Plugin } from 'vite';

const pack = promisify(brotliCompress);

/** One below the highest: 2 % larger for half the time, and every `npm start` builds. */
const HOW = { params: { [constants.BROTLI_PARAM_QUALITY]: 10 } };

/** Below it the headers weigh more than what is saved. */
const LEAST_BYTES = 2048;

export function packed(): Plugin {
  return {
    name: 'packed',
    apply: 'build',
    async writeBundle({ dir = '' }, bundle) {
      const names = Object.keys(bundle).filter((name) => name.startsWith('assets/') && /\.(js|css)$/.test(name));
      await Promise.all(
        names.map(async (name) => {
          const bytes = await readFile(join(dir, name));
          if (bytes.byteLength >= LEAST_BYTES) await writeFile(join(dir, `${name}.br`), await pack(bytes, HOW));
        }),
      );
    },
  };
}
