import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import type { Plugin } from 'vite';

const WORKER = 'service-worker.js';

/** Tells the service worker which files this build consists of, and names the version after what is in them. */
export function shellPlugin(publicFolder: string): Plugin {
  return {
    name: 'seamledger-shell', apply: 'build', enforce: 'post',
    generateBundle: { order: 'post', handler(_options, bundle) {
      const worker = bundle[WORKER];
      if (worker?.type !== 'chunk') this.error(`${WORKER} is not in the build`);
      if (worker.imports.length > 0) this.error(`${WORKER} must stand alone, it imports ${worker.imports.join(', ')}`);
      const hash = createHash('sha256');
      const built = Object.values(bundle).filter((file) => file.fileName !== WORKER && !file.fileName.endsWith('.map')).sort((a, b) => (a.fileName < b.fileName ? -1 : 1));
      for (const file of built) hash.update(file.fileName).update(file.type === 'chunk' ? file.code : file.source);
      const fixed = readdirSync(publicFolder).sort();
      for (const name of fixed) hash.update(name).update(readFileSync(path.join(publicFolder, name)));
      const files = [...built.map((file) => `/${file.fileName}`), ...fixed.map((name) => `/${name}`)];
      const before = worker.code;
      worker.code = before.replace(/(["'`])%SHELL%\1/, JSON.stringify(JSON.stringify({ version: hash.digest('hex').slice(0, 16), files })));
      if (worker.code === before) this.error(`${WORKER} has no place for the list of files`);
    } },
  };
}
