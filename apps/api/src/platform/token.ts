import { createHash, randomBytes } from 'node:crypto';

/** 256 random bits: nobody guesses them, so a plain hash is enough to store. */
export const makeToken = (): string => randomBytes(32).toString('base64url');
export const hashToken = (token: string): string => createHash('sha256').update(token).digest('hex');
