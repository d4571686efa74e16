import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { inject } from 'vitest';
import { Work } from '../../apps/api/src/platform/work.js';

export type TestDatabase = { url: string; work: Work; close(): Promise<void> };

/** A clone of the migrated template, for one test file; `empty: true` gives a database without a table. */
export async function freshDatabase(options: { empty?: boolean } = {}): Promise<TestDatabase> {
  const adminUrl = inject('adminUrl');
  const name = `test_${randomBytes(6).toString('hex')}`;
  await asAdmin(adminUrl, async (admin) => {
    // Only one clone of a template can be made at a time: the lock makes the others wait.
    await admin.query('SELECT pg_advisory_lock(42)');
    await admin.query(options.empty ? `CREATE DATABASE ${name} TEMPLATE template0` : `CREATE DATABASE ${name} TEMPLATE template_for_tests`);
  });
  const url = adminUrl.replace(/\/postgres$/, `/${name}`);
  const work = new Work(url, 5);
  return {
    url, work,
    async close() {
      await work.close();
      await asAdmin(adminUrl, async (admin) => { await admin.query(`DROP DATABASE ${name} WITH (FORCE)`); });
    },
  };
}

async function asAdmin(url: string, use: (admin: pg.Client) => Promise<void>): Promise<void> {
  const admin = new pg.Client({ connectionString: url });
  await admin.connect();
  try {
    await use(admin);
  } finally {
    await admin.end();
  }
}
