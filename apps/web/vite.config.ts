import react from '@vitejs/plugin-react';
import path from 'node:path';
import { defineConfig } from 'vite';

// `npm run dev` proxies the API to the server that it starts beside this one.
export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  resolve: { conditions: ['source', 'module', 'browser', 'development|production'] },
  build: { outDir: path.join(import.meta.dirname, '../../dist/web'), emptyOutDir: true, chunkSizeWarningLimit: 2000 },
  // Workers load what they need when they need it: the reader of spreadsheet files is for those who bring one.
  worker: { format: 'es' },
  server: { host: '127.0.0.1', proxy: { '/api': { target: `http://127.0.0.1:${process.env['SEAMLEDGER_API_PORT'] ?? '4311'}` } } },
});
