// `npm run dev`: the server restarts on each edit (tsc --watch, node --watch), the web client reloads in the browser (vite).
import { spawn } from 'node:child_process';
import path from 'node:path';
import { build, generate } from './build.mjs';

const root = path.join(import.meta.dirname, '..');
process.chdir(root);
const say = (line) => console.log(`seamledger: ${line}`);
await build(say);
await generate();
const apiPort = process.env.SEAMLEDGER_API_PORT ?? '4311';
const webPort = process.env.PORT ?? '4310';
const bin = (name) => path.join(root, 'node_modules', name);
const children = [
  [[bin('typescript/bin/tsc'), '-p', 'tsconfig.json', '--watch', '--preserveWatchOutput'], {}],
  [['--watch-path=dist/apps/api', '--watch-path=dist/libs', '--watch-preserve-output', 'dist/apps/api/src/main.js'], { PORT: apiPort, HOST: '127.0.0.1' }],
  [[bin('vite/bin/vite.js'), '--config', 'apps/web/vite.config.ts', '--port', webPort, '--strictPort'], { SEAMLEDGER_API_PORT: apiPort }],
].map(([args, env]) => spawn(process.execPath, args, { cwd: root, stdio: 'inherit', env: { ...process.env, NODE_ENV: 'development', ...env } }));
say(`pages on http://127.0.0.1:${webPort}, API on http://127.0.0.1:${apiPort}; Ctrl-C ends both`);
let ending = false;
const end = (code) => {
  if (ending) return;
  ending = true;
  for (const child of children) child.kill('SIGTERM');
  process.exitCode = code;
};
for (const child of children) child.on('exit', (code) => end(code ?? 0));
process.on('SIGINT', () => end(0));
process.on('SIGTERM', () => end(0));
