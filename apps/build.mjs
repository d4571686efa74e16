// Makes what a start needs: Prisma client, server, web client. Skips all of it when no source has changed since the last time.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';

const root = path.join(import.meta.dirname, '..');
const stamp = path.join(root, 'dist', 'build.stamp');
const SOURCES = ['apps', 'libs', 'prisma/schema', 'seed', 'test/bench', 'test/faults', 'test/trace-plants', 'package-lock.json', 'tsconfig.json'];

function* files(entry) {
  const full = path.join(root, entry);
  if (!existsSync(full)) return;
  const children = entry.includes('.') ? null : readdirSync(full, { withFileTypes: true });
  if (!children) { yield entry; return; }
  for (const child of children.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const name = `${entry}/${child.name}`;
    if (child.isDirectory()) { if (child.name !== 'generated' && child.name !== 'pictures') yield* files(name); }
    else if (!/\.spec\.tsx?$|\.md$/.test(child.name)) yield name;
  }
}

function sourceHash() {
  const hash = createHash('sha256');
  for (const entry of SOURCES) for (const file of files(entry)) hash.update(file).update(readFileSync(path.join(root, file)));
  return hash.digest('hex');
}

/** Runs a program of node_modules; its words are shown only when it fails. */
function run(script, args, env = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [path.join(root, 'node_modules', script), ...args], { cwd: root, env: { ...process.env, ...env }, stdio: ['ignore', 'pipe', 'pipe'] });
    let words = '';
    child.stdout.on('data', (chunk) => { words += chunk; });
    child.stderr.on('data', (chunk) => { words += chunk; });
    child.on('error', reject);
    child.on('exit', (code) => (code === 0 ? resolve() : reject(new Error(`${script} ended with ${code}\n${words}`))));
  });
}

/** Prisma's CLI asks for an engine binary that generating does not use; any program will do, so nothing is downloaded. */
export const generate = () => run('prisma/build/index.js', ['generate', '--config', 'prisma/prisma.config.ts'], { PRISMA_SCHEMA_ENGINE_BINARY: process.execPath, PRISMA_HIDE_UPDATE_MESSAGE: '1', CHECKPOINT_DISABLE: '1' });

function compress(folder) {
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    const file = path.join(entry.parentPath, entry.name);
    if (entry.isFile() && /\.(js|css|svg|html)$/.test(entry.name)) writeFileSync(`${file}.gz`, gzipSync(readFileSync(file), { level: 9 }));
  }
}

export async function build(say) {
  const hash = sourceHash();
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === hash) return false;
  const began = Date.now();
  say('building server and web client (first start, or the sources changed)');
  rmSync(stamp, { force: true });
  mkdirSync(path.join(root, 'dist'), { recursive: true });
  await Promise.all([
    generate().then(() => run('typescript/bin/tsc', ['-p', 'tsconfig.json'])),
    run('vite/bin/vite.js', ['build', '--config', 'apps/web/vite.config.ts', '--logLevel', 'warn'], { NODE_ENV: 'production' }).then(() => compress(path.join(root, 'dist', 'web'))),
  ]);
  writeFileSync(stamp, hash);
  say(`built in ${((Date.now() - began) / 1000).toFixed(1)} s`);
  return true;
}

if (process.argv[1] === import.meta.filename) {
  await build((line) => console.log(`seamledger: ${line}`)).catch((error) => { console.error(`seamledger: the build failed: ${error.message}`); process.exit(1); });
}
