// `npm start`: build if needed, then run the server in this process.
import path from 'node:path';

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`seamledger: Node.js 20.19 or later is needed, this is ${process.versions.node}`);
  process.exit(1);
}
process.chdir(path.join(import.meta.dirname, '..'));
process.env.NODE_ENV ??= 'production';
const { build } = await import('./build.mjs');
try {
  await build((line) => console.log(`seamledger: ${line}`));
} catch (error) {
  console.error(`seamledger: the build failed: ${error.message}`);
  process.exit(1);
}
await import('../dist/apps/api/src/main.js');
