import { isLoopback } from '../platform/config.js';
import { StartError } from '../platform/start-error.js';
import type { Work } from '../platform/work.js';
import { listDemoAccounts } from './users.store.js';

/** Accounts whose password stands in the README must not be reachable by others: refuses such a start, naming them. */
export async function refuseDemoPasswords(work: Work, host: string): Promise<void> {
  if (isLoopback(host)) return;
  const logins = (await listDemoAccounts(work.read)).map((account) => account.login);
  if (logins.length > 0) {
    throw new StartError(`HOST=${host} can be reached by others, but these accounts still have the demo password: ${logins.join(', ')}. Start once without HOST, change the passwords (Account) or disable the accounts (Set-up, People), then start again`);
  }
}
