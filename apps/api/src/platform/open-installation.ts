import type { Config } from './config.js';
import { holderOf } from './data-lock.js';
import { runningPostgres, startEmbeddedPostgres } from './embedded-postgres.js';
import { applyMigrations, pendingMigrations, underStartLock } from './migrate.js';
import { StartError } from './start-error.js';
import { Work } from './work.js';

/**
 * The database of an installation, for a command beside the server: DATABASE_URL, or the embedded server, joined where
 * the program runs and started for the moment where it does not. Refuses a database of another version, unless `migrate` lets it bring a new or older one up to this version.
 */
export async function openInstallation(config: Config, say: (line: string) => void, { migrate = false } = {}): Promise<{ work: Work; close(): Promise<void> }> {
  const held = config.databaseUrl === undefined && (await holderOf(config.dataFolder)) !== null;
  const joined = held ? await runningPostgres(config.dataFolder) : null;
  if (held && joined === null) throw new StartError(`the program that holds ${config.dataFolder} is still starting: try again in a moment`);
  const own = config.databaseUrl === undefined && joined === null ? await startEmbeddedPostgres(config.dataFolder, { durable: true, say }) : null;
  const url = config.databaseUrl ?? joined ?? (own as { url: string }).url;
  try {
    const pending = await pendingMigrations(url);
    if (migrate && pending.length > 0) await underStartLock(url, () => applyMigrations(url));
    else if (pending.length > 0) throw new StartError(`the database is of an older version (${pending.length} migrations to apply): start the program once`);
  } catch (error) {
    await own?.stop();
    throw error;
  }
  const work = new Work(url, 4);
  return { work, async close() { await work.close(); await own?.stop(); } };
}
