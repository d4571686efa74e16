import { readFileSync } from 'node:fs';
import { readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { StartError } from './start-error.js';

/** True while a process with this id runs. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** When the process began, in the kernel's ticks: tells a living owner from another process that got its number. Empty where unknown. */
function beganAt(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ')[19] ?? '';
  } catch {
    return '';
  }
}

/** The process that holds a data folder; null where nobody does. */
export const holderOf = (dataFolder: string): Promise<number | null> => livingOwner(path.join(dataFolder, 'start.lock'));

async function livingOwner(file: string): Promise<number | null> {
  const [pid, began] = (await readFile(file, 'utf8').catch(() => '')).split(' ');
  const owner = Number(pid);
  return owner > 0 && isAlive(owner) && beganAt(owner) === (began ?? '') ? owner : null;
}

/** One start a data folder: answers how to give it back, or refuses naming the process that has it. */
export async function takeLock(dataFolder: string): Promise<() => Promise<void>> {
  const file = path.join(dataFolder, 'start.lock');
  const mine = `${process.pid} ${beganAt(process.pid)}`;
  for (let attempt = 0; attempt < 2; attempt += 1) {
    try {
      await writeFile(file, mine, { flag: 'wx' });
      return () => rm(file, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
    const owner = await livingOwner(file);
    if (owner !== null) throw new StartError(`the data folder ${dataFolder} is in use by another start (process ${owner}): stop that one, or give another folder in SEAMLEDGER_DATA`);
    await rm(file, { force: true });
  }
  throw new StartError(`the data folder ${dataFolder} is in use by another start that began at the same moment`);
}
