import { readFileSync } from 'node:fs';
import type { PackDifference, PackVerification } from '#contract/packs';
import { NoPack, verifyPack } from './flows/packs/verify-pack.js';
import { readConfig } from './platform/config.js';
import { openInstallation } from './platform/open-installation.js';
import { StartError } from './platform/start-error.js';
import { findPlant } from './users/users.store.js';

// `npm run verify-pack -- FILE`: FILE is the JSON file of an audit pack. Ends with 0 where all is equal, 2 where something differs.
const SHOWN = 50;
const words: Record<PackDifference['kind'], string> = {
  hash: 'the bytes are not what was hashed', stored: 'is not a pack of this installation', recomputed: 'the inputs of the pack give another figure', corrected: 'was corrected since',
  altered: 'is stored otherwise, and no correction says why', added: 'was added since', removed: 'is not stored any more', 'moved-on': 'went on since',
};

function tell(found: PackVerification): number {
  for (const { kind, where, pack, now } of found.differences.slice(0, SHOWN)) console.log(`${where}: ${words[kind]}; pack ${pack}; now ${now}`);
  const hidden = found.more + Math.max(0, found.differences.length - SHOWN);
  if (hidden > 0) console.log(`… and ${hidden} more`);
  if (found.softwareVersion.pack !== found.softwareVersion.now) console.log(`made by version ${found.softwareVersion.pack}, recomputed by version ${found.softwareVersion.now}`);
  console.log(`${found.figures} figures recomputed from ${found.readings} readings, SHA-256 ${found.sha256}`);
  console.log(found.equal ? 'equal' : found.stale ? 'not equal: the stored evidence differs from the pack (stale)' : 'not equal');
  return found.equal ? 0 : 2;
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
