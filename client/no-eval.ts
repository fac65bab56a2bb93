/**
 * zod tries whether it may make functions out of text when the first schema is made. The policy of these pages forbids it, and a browser reports the
 * try. Said where zod keeps its settings, since nothing of the app runs before its schemas do.
 */
import type { Plugin } from 'vite';

export function noEval(): Plugin {
  return {
    name: 'no-eval',
    transform: (code, id) =>
      /zod\/v4\/core\/core\.js$/.test(id) ? { code: `${code}\nglobalConfig.jitless = true;\n`, map: null } : undefined,
  };
}
