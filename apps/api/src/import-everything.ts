import { randomBytes } from 'node:crypto';
import { NEVER_SENT } from './outgoing/never-sent.store.js';
import { readConfig } from './platform/config.js';
import { openInstallation } from './platform/open-installation.js';
import { importEverything } from './platform/portable/import-everything.js';
import { StartError } from './platform/start-error.js';
import { giveNewPasswords } from './users/new-passwords.js';

// `npm run import-everything -- FILE`: into an installation that holds nothing yet (a new SEAMLEDGER_DATA, or an empty DATABASE_URL).
async function main(): Promise<void> {
  const [file, ...more] = process.argv.slice(2);
  if (!file || more.length > 0) throw new StartError('needs one file: npm run import-everything -- FILE.zip');
  const installation = await openInstallation(readConfig(process.env), (line) => console.log(line), { migrate: true });
  try {
    // A run that was stopped between its two steps goes on with the second.
    if (!(await giveNewPasswords(installation.work, tellPassword))) {
      const { plant, at, version } = await importEverything(installation.work.databaseUrl, file, (line) => console.log(line), NEVER_SENT);
      console.log(`imported ${plant}, as version ${version} exported it at ${at}`);
      await giveNewPasswords(installation.work, tellPassword);
    }
    console.log('Everybody else gets a new password from an administrator. Start the program, or restart it if it runs. `npm run verify-audit` compares all records with their seals.');
  } finally {
    await installation.close();
  }
}

const tellPassword = (login: string): string => {
  const password = randomBytes(12).toString('base64url');
  console.log(`new password of the administrator "${login}": ${password}`);
  return password;
};

main().catch((error: unknown) => {
  console.error(`seamledger: ${error instanceof StartError ? error.message : error instanceof Error ? error.stack : String(error)}`);
  process.exitCode = 1;
});
