import { z } from 'zod';
import type { CheckFault } from '#contract/records';
import { type Verification, verifyPlant } from './flows/verify-records.js';
import type { ChainFault, NotedHead } from './platform/audit-chain.js';
import { readConfig } from './platform/config.js';
import { openInstallation } from './platform/open-installation.js';
import { StartError } from './platform/start-error.js';
import { findPlant } from './users/users.store.js';

// `npm run verify-audit [-- NUMBER:HASH …]`: NUMBER:HASH is the head of the chain as an earlier run, a print or a pack shows it.
const head = z.string().regex(/^\d{1,18}:[0-9a-f]{64}$/).transform((text): NotedHead => ({ seq: text.split(':')[0] as string, hash: text.split(':')[1] as string, notedBy: 'given on the command line' }));
const SHOWN = 50;

const auditWords: Record<ChainFault['kind'], string> = {
  altered: 'was altered, or its link was', removed: 'was removed', cut: 'follows a gap in the chain', unlinked: 'was written past the program', 'other-head': 'is not what was noted',
};
const checkWords = { changed: 'readings, statistics or header differ from what was stored', gone: 'was removed', unsealed: 'was written past the program', 'taken-back': 'is marked as taken back, but no import was undone' } as const;
const actWords = { 'readings.recorded': 'added in-line readings to it', 'reading.corrected': 'corrected a reading of it', 'check.photo-added': 'added a photo to it', 'import.undone': 'took it back with its import' } as const;
const checkFaultWords = (fault: CheckFault): string => (fault.kind === 'changed-before' ? `was changed past the program before audit row ${fault.auditId}${fault.seq === null ? '' : ` (number ${fault.seq} of the chain)`} ${actWords[fault.action]} at ${fault.at}` : checkWords[fault.kind]);
const recordWords = { changed: 'is not what the trail told when it was written', gone: 'was removed', unsealed: 'was written past the program' } as const;

function tell(found: Verification): number {
  for (const fault of found.auditFaults.slice(0, SHOWN)) console.log(`audit row ${fault.auditId ?? '?'}${fault.seq === null ? '' : ` (number ${fault.seq} of the chain)`}${fault.subject === null ? '' : `, about ${fault.subject},`} ${auditWords[fault.kind]}${fault.notedBy === null ? '' : `: ${fault.notedBy}`}`);
  for (const fault of found.checkFaults.slice(0, SHOWN)) console.log(`check ${fault.checkId}: ${checkFaultWords(fault)}`);
  for (const fault of found.recordFaults.slice(0, SHOWN)) console.log(`${fault.record} ${fault.id}: ${recordWords[fault.kind]}`);
  const lists = [found.auditFaults, found.checkFaults, found.recordFaults];
  const faults = lists.reduce((sum, list) => sum + list.length, 0);
  const hidden = lists.reduce((sum, list) => sum + Math.max(0, list.length - SHOWN), 0);
  if (hidden > 0) console.log(`… and ${hidden} more`);
  if (found.checksWithoutSeal > 0) console.log(`${found.checksWithoutSeal} checks were stored before this version began to seal them: nothing can be said about these`);
  console.log(`${found.auditRows} audit rows and ${found.checks} checks compared, ${faults} faults`);
  const listed = (key: 'compared' | 'untold') => found.records.filter((each) => each[key] > 0).map((each) => `${each.record} ${each[key]}`).join(', ') || 'none';
  console.log(`other records compared: ${listed('compared')}; from before the trail told their content: ${listed('untold')}`);
  console.log('all else is not compared with what is stored: only its acts in the trail are (master data, incidents, holds, notes, production counts, readings of every body and more)');
  if (found.head) console.log(`head of the chain: ${found.head.seq}:${found.head.hash}\nNote it on paper or elsewhere: given to a later run, it shows what was cut off at the end.`);
  return faults;
}

async function main(): Promise<number> {
  const noted = process.argv.slice(2).map((text) => {
    const parsed = head.safeParse(text);
    if (!parsed.success) throw new StartError(`"${text}" is not a head of the chain: needs NUMBER:HASH, the hash with 64 digits of 0-9 and a-f`);
    return parsed.data;
  });
  const installation = await openInstallation(readConfig(process.env), () => {});
  try {
    const plant = await findPlant(installation.work.read);
    if (!plant) throw new StartError('this installation has no plant yet: there is nothing to verify');
    return tell(await verifyPlant(installation.work, plant.id, noted));
  } finally {
    await installation.close();
  }
}

main().then((faults) => { process.exitCode = faults === 0 ? 0 : 2; }, (error: unknown) => {
  console.error(`seamledger: ${error instanceof StartError ? error.message : error instanceof Error ? error.stack : String(error)}`);
  process.exitCode = 1;
});
