// Writes the SQL that brings the committed migrations up to prisma/schema: `npm run migration -- NAME`.
// No download and no database of yours: it compares prisma/schema with prisma/migrations/schema.last.prisma on a throw-away cluster.
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { startEmbeddedPostgres } from '../dist/apps/api/src/platform/embedded-postgres.js';
import { withSchemaEngine } from '../dist/apps/api/src/platform/schema-engine.js';

const folder = path.join(import.meta.dirname, 'schema');
const files = readdirSync(folder).filter((name) => name.endsWith('.prisma')).sort().map((name) => ({ path: name, content: readFileSync(path.join(folder, name), 'utf8') }));
const last = path.join(import.meta.dirname, 'migrations', 'schema.last.prisma');
const name = process.argv[2];
if (!name || !/^[a-z0-9-]+$/.test(name)) {
  console.error('usage: npm run migration -- NAME   (small letters, digits and hyphens: what the migration brings)');
  process.exit(1);
}
const scratch = mkdtempSync(path.join(tmpdir(), 'seamledger-migration-'));
const postgres = await startEmbeddedPostgres(scratch, { durable: false, say: () => {} });
const pool = new pg.Pool({ connectionString: postgres.url });
const answer = await withSchemaEngine(pool, files.map((file) => [file.path, file.content]), (engine) => engine.diff({
  from: existsSync(last) ? { tag: 'schemaDatamodel', files: [{ path: 'last.prisma', content: readFileSync(last, 'utf8') }] } : { tag: 'empty' },
  to: { tag: 'schemaDatamodel', files },
  script: true, exitCode: null, shadowDatabaseUrl: null, filters: { externalTables: [], externalEnums: [] },
}));
await pool.end();
await postgres.stop();
rmSync(scratch, { recursive: true });
if (!answer.stdout || answer.stdout.includes('This is an empty migration')) {
  console.log('prisma/schema says nothing new: no migration written');
  process.exit(0);
}
const count = readdirSync(path.join(import.meta.dirname, 'migrations')).filter((entry) => /^\d{4}_/.test(entry)).length;
const target = path.join(import.meta.dirname, 'migrations', `${String(count + 1).padStart(4, '0')}_${name.replaceAll('-', '_')}`);
mkdirSync(target, { recursive: true });
writeFileSync(path.join(target, 'migration.sql'), answer.stdout);
writeFileSync(last, files.map((file) => file.content).join('\n'));
console.log(`wrote ${path.relative(process.cwd(), target)}/migration.sql: read it, add what Prisma does not model, commit it`);
