import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { freshDatabase, type TestDatabase } from '../db/database.js';

let database: TestDatabase;
beforeAll(async () => { database = await freshDatabase(); });
afterAll(() => database.close());

// A plant is one row; failed log-ins come before anybody knows which plant; the last is the migration engine's own.
const WITHOUT_PLANT = ['plant', 'login_failure', '_prisma_migrations'];

it('leads every primary, unique and foreign key with the plant, so that plants can be spread over machines', async () => {
  const keys = await database.work.client.$queryRaw<{ table: string; name: string; kind: string; columns: string[] }[]>`
    SELECT t.relname AS table, k.conname AS name, k.contype::text AS kind, ARRAY(SELECT a.attname::text FROM unnest(k.conkey) WITH ORDINALITY AS c(number, place) JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = c.number ORDER BY c.place) AS columns
    FROM pg_constraint k JOIN pg_class t ON t.oid = k.conrelid JOIN pg_namespace s ON s.oid = t.relnamespace WHERE s.nspname = 'public' AND k.contype IN ('p', 'f', 'u')
    UNION ALL
    SELECT t.relname, i.relname, 'u', ARRAY(SELECT a.attname::text FROM unnest(x.indkey::int2[]) WITH ORDINALITY AS c(number, place) JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = c.number ORDER BY c.place)
    FROM pg_index x JOIN pg_class t ON t.oid = x.indrelid JOIN pg_class i ON i.oid = x.indexrelid JOIN pg_namespace s ON s.oid = t.relnamespace WHERE s.nspname = 'public' AND x.indisunique`;
  expect(keys.length).toBeGreaterThan(60);
  const wrong = keys.filter((key) => !WITHOUT_PLANT.includes(key.table) && key.columns[0] !== 'plant_id');
  expect(wrong.map((key) => `${key.table}: ${key.name} (${key.columns.join(', ')})`)).toEqual([]);
});

it('has what the schema language does not say: append-only tables, the covering index of charts, no two equal streams', async () => {
  const triggers = await database.work.client.$queryRaw<{ name: string }[]>`SELECT tgname AS name FROM pg_trigger WHERE NOT tgisinternal ORDER BY tgname`;
  expect(triggers.map((row) => row.name)).toEqual(['audit_link_is_append_only', 'audit_link_is_not_emptied', 'audit_row_is_append_only', 'audit_row_is_linked', 'audit_row_is_not_emptied', 'can_code_patterns_are_kept', 'check_counts_are_kept', 'check_photos_are_kept', 'check_plan_revisions_are_kept', 'check_ratings_are_kept', 'counter_decisions_are_kept', 'counter_readings_are_kept', 'due_skips_are_kept', 'gauge_calibrations_are_kept', 'gauge_trials_are_kept', 'gauge_trials_are_not_removed', 'hold_steps_are_append_only', 'holds_are_kept', 'incident_is_searched', 'incident_signal_is_searched', 'legal_holds_are_kept', 'limits_are_frozen', 'line_is_searched', 'machine_is_searched', 'news_wakes_every_process', 'note_is_searched', 'note_link_is_searched', 'origin_weights_are_versions', 'pack_templates_are_versions', 'packs_are_kept', 'product_is_searched', 'reaction_plans_are_versions', 'replies_are_kept', 'retention_acts_are_kept', 'retention_deletions_are_kept', 'retention_records_are_kept', 'retention_rules_are_versions', 'signatures_are_kept', 'specifications_are_revisions', 'studies_are_kept', 'study_records_are_kept', 'study_records_are_not_removed', 'study_steps_are_append_only', 'study_thresholds_are_kept', 'subgroup_revision_is_append_only', 'synonym_group_is_searched', 'synonym_revisions_are_kept', 'traces_are_kept', 'verifications_are_kept', 'weld_windows_are_versions']);
  const indexes = await database.work.client.$queryRaw<{ definition: string }[]>`SELECT indexdef AS definition FROM pg_indexes WHERE indexname IN ('subgroup_chart', 'stream_identity') ORDER BY indexname`;
  expect(indexes[0]?.definition).toContain('NULLS NOT DISTINCT');
  expect(indexes[1]?.definition).toContain('INCLUDE (n, mean, range, sd, limits_id)');
});

it('has a migration for everything that prisma/schema says', () => {
  const folder = new URL('../../prisma/schema/', import.meta.url);
  const schema = readdirSync(folder).filter((name) => name.endsWith('.prisma')).sort().map((name) => readFileSync(new URL(name, folder), 'utf8')).join('\n');
  const migrated = readFileSync(new URL('../../prisma/migrations/schema.last.prisma', import.meta.url), 'utf8');
  expect(schema, 'run: npm run migration -- what-it-brings').toBe(migrated);
});
