/** Builds the browser app into client/dist, which the server serves. */
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  build: { outDir: 'dist', emptyOutDir: true, chunkSizeWarningLimit: 700 },
  // Nothing is inlined as a data URL: the server's content policy allows only its own files.
  worker: { format: 'es' },
  server: { proxy: { '/api': 'http://localhost:8420', '/trust': 'http://localhost:8420' } },
});
