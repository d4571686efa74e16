import { hash, verify } from '@node-rs/argon2';
import { roles, type Role } from '#contract/roles';

export const isRole = (text: string): text is Role => (roles as readonly string[]).includes(text);

/** Argon2id with 19 MiB, two passes, one lane (RFC 9106 names the scheme; these costs are the library's defaults). */
export const hashPassword = (password: string): Promise<string> => hash(password);

export const checkPassword = (passwordHash: string, password: string): Promise<boolean> => verify(passwordHash, password);

let decoy: Promise<string> | undefined;
/** Takes as long as a real check, so that an unknown login cannot be told from a wrong password by the clock. */
export async function checkNothing(password: string): Promise<false> {
  decoy ??= hashPassword('no account has this password');
  await checkPassword(await decoy, password);
  return false;
}
