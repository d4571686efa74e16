import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';
import pg from 'pg';
import { startEmbeddedPostgres } from '../../apps/api/src/platform/embedded-postgres.js';
import { applyMigrations } from '../../apps/api/src/platform/migrate.js';

declare module 'vitest' {
  interface ProvidedContext {
    adminUrl: string;
  }
}

/** One real PostgreSQL for the run; its template database carries the migrations, each test file gets a clone of it. */
export default async function setup(project: TestProject) {
  const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-test-'));
  const postgres = await startEmbeddedPostgres(folder, { durable: false, say: () => {} });
  await applyMigrations(postgres.url);
  const admin = new pg.Client({ connectionString: postgres.url.replace(/\/seamledger$/, '/postgres') });
  await admin.connect();
  await admin.query('CREATE DATABASE template_for_tests TEMPLATE seamledger');
  await admin.end();
  project.provide('adminUrl', postgres.url.replace(/\/seamledger$/, '/postgres'));
  return async () => {
    await postgres.stop();
    rmSync(folder, { recursive: true, force: true });
  };
}
