import react from '@vitejs/plugin-react';
import path from 'node:path';
import { defineConfig } from 'vite';
import { shellPlugin } from './shell-plugin.js';

// `npm run dev` proxies the API to the server that it starts beside this one.
export default defineConfig({
  root: import.meta.dirname,
  plugins: [react(), shellPlugin(path.join(import.meta.dirname, 'public'))],
  resolve: { conditions: ['source', 'module', 'browser', 'development|production'] },
  build: { outDir: path.join(import.meta.dirname, '../../dist/web'), emptyOutDir: true, chunkSizeWarningLimit: 2000,
    rolldownOptions: {
      input: { index: path.join(import.meta.dirname, 'index.html'), 'service-worker': path.join(import.meta.dirname, 'src/service-worker.ts') },
      // A service worker keeps its address; everything else is named after its content.
      output: { entryFileNames: (chunk) => (chunk.name === 'service-worker' ? '[name].js' : 'assets/[name]-[hash].js') },
    },
  },
  // Workers load what they need when they need it: the reader of spreadsheet files is for those who bring one.
  worker: { format: 'es' },
  server: { host: '127.0.0.1', proxy: { '/api': { target: `http://127.0.0.1:${process.env['SEAMLEDGER_API_PORT'] ?? '4311'}` } } },
});
