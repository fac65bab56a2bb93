/** Builds the browser app, in the language of the shop, into client/dist/<language>, which the server serves. */

import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { locale } from '#words';
import { noEval } from './no-eval.ts';
import { shellList, WORKER_FILE } from './offline/shell-list.ts';
import { packed } from './packed.ts';
import { spoken } from './spoken.ts';

const here = import.meta.dirname;

export default defineConfig({
  root: here,
  plugins: [spoken(), noEval(), react(), shellList(`${here}/public`), packed()],
  build: {
    outDir: `dist/${locale}`,
    emptyOutDir: true,
    chunkSizeWarningLimit: 700,
    rolldownOptions: {
      // How long each plugin took is no news to who starts the product.
      checks: { bundlerTimings: false },
      input: { app: `${here}/index.html`, worker: `${here}/offline/service-worker.ts` },
      // A service worker is found by its name, which therefore never changes.
      output: { entryFileNames: ({ name }) => (name === 'worker' ? WORKER_FILE : 'assets/[name]-[hash].js') },
    },
  },
  // Nothing is inlined as a data URL: the server's content policy allows only its own files.
  worker: { format: 'es', plugins: () => [spoken(), noEval()], rolldownOptions: { checks: { bundlerTimings: false } } },
  server: { proxy: { '/api': 'http://localhost:8420', '/trust': 'http://localhost:8420' } },
});
