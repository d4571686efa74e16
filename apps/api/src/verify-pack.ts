import { readFileSync } from 'node:fs';
import { type DifferenceClass, differenceClass, type PackDifference, type PackVerification } from '#contract/packs';
import { NoPack, verifyPack } from './flows/packs/verify-pack.js';
import { readConfig } from './platform/config.js';
import { openInstallation } from './platform/open-installation.js';
import { StartError } from './platform/start-error.js';
import { findPlant } from './users/users.store.js';

// `npm run verify-pack -- FILE`: FILE is the JSON file of an audit pack. Ends with 2 where something serious differs, otherwise with 0: what
// acts of the audit trail corrected since makes a pack stale, not wrong.
const SHOWN = 50;
const words: Record<PackDifference['kind'], string> = {
  hash: 'the bytes are not what was hashed', stored: 'is not a pack of this installation', recomputed: 'the inputs of the pack give another figure',
  altered: 'is stored otherwise, and the audit trail does not say why', added: 'is stored now, and the audit trail does not say why', removed: 'is not stored any more, and the audit trail does not say why',
  corrected: 'was corrected since', 'recorded-later': 'was recorded since', 'taken-back': 'was taken back since', 'changed-since': 'was changed since', 'moved-on': 'went on since',
};
const titles: Record<DifferenceClass, string> = { serious: 'serious', corrected: 'corrected since by acts of the audit trail', movedOn: 'went on since, no difference of the evidence' };

function tell(found: PackVerification): number {
  for (const name of ['serious', 'corrected', 'movedOn'] as const) {
    if (found[name] === 0) continue;
    console.log(`${titles[name]}: ${found[name]}`);
    for (const { kind, where, pack, now } of found.differences.filter((each) => differenceClass(each.kind) === name).slice(0, SHOWN)) console.log(`  ${where}: ${words[kind]}; pack ${pack}; now ${now}`);
    if (found[name] > SHOWN) console.log(`  … and ${found[name] - SHOWN} more`);
  }
  if (found.softwareVersion.pack !== found.softwareVersion.now) console.log(`made by version ${found.softwareVersion.pack}, recomputed by version ${found.softwareVersion.now}`);
  console.log(`${found.figures} figures recomputed from ${found.readings} readings, SHA-256 ${found.sha256}`);
  console.log(`${found.serious} serious, ${found.corrected} corrected, ${found.movedOn} moved on`);
  console.log(found.equal ? 'equal' : found.serious > 0 ? 'not equal: something differs that nothing explains' : 'stale: the pack is as it was frozen, and its evidence was corrected since');
  return found.serious > 0 ? 2 : 0;
}

async function main(): Promise<number> {
  const [file, ...more] = process.argv.slice(2);
  if (file === undefined || more.length > 0) throw new StartError('usage: npm run verify-pack -- FILE, the JSON file of an audit pack');
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    throw new StartError(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  }
  const installation = await openInstallation(readConfig(process.env), () => {});
  try {
    const plant = await findPlant(installation.work.read);
    if (!plant) throw new StartError('this installation has no plant yet: there is nothing to compare with');
    return tell(await verifyPack(installation.work, plant.id, text, new Date()));
  } catch (error) {
    if (error instanceof NoPack) throw new StartError(`${file}: ${error.message}`);
    throw error;
  } finally {
    await installation.close();
  }
}

main().then((code) => { process.exitCode = code; }, (error: unknown) => {
  console.error(`seamledger: ${error instanceof StartError ? error.message : error instanceof Error ? error.stack : String(error)}`);
  process.exitCode = 1;
});
