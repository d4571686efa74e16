import path from 'node:path';
import { z } from 'zod';
import { expectedWords } from './expected-words.js';
import type { Outward } from './outward.js';
import { StartError } from './start-error.js';

const environment = z.object({
  PORT: z.coerce.number().int().min(0).max(65535).default(4310),
  HOST: z.string().min(1).default('127.0.0.1'),
  DATABASE_URL: z.string().regex(/^postgres(ql)?:\/\//, 'must begin with postgresql://').optional(),
  SEAMLEDGER_DATA: z.string().min(1).default('.data'),
  SEAMLEDGER_INBOX: z.string().min(1).optional(),
  SMTP_URL: z.string().regex(/^smtps?:\/\//, 'must begin with smtp:// or smtps://').optional(),
  MAIL_FROM: z.string().regex(/^[^\r\n]*@[^\r\n]+$/, 'must be an e-mail address').optional(),
  PUBLIC_URL: z.string().regex(/^https?:\/\//, 'must begin with http:// or https://').optional(),
  METRICS_TOKEN: z.string().min(16, 'must have at least 16 characters').optional(),
  SEED: z.enum(['demo', 'none']).default('demo'),
});

export type Config = { port: number; host: string; databaseUrl: string | undefined; dataFolder: string; inbox: string | undefined; seed: 'demo' | 'none'; outward: Outward };

/** Reads the environment; a wrong value is a one-line refusal that names the variable. */
export function readConfig(env: NodeJS.ProcessEnv): Config {
  const present = Object.fromEntries(Object.entries(env).filter(([, value]) => value !== ''));
  const parsed = environment.safeParse(present, { error: (issue) => `must be ${expectedWords(issue)}` });
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    throw new StartError(`environment variable ${issue?.path.join('.')}: ${issue?.message}`);
  }
  const { PORT, HOST, DATABASE_URL, SEAMLEDGER_DATA, SEAMLEDGER_INBOX, SEED, SMTP_URL, MAIL_FROM, PUBLIC_URL, METRICS_TOKEN } = parsed.data;
  if (SEAMLEDGER_INBOX && /[?&]pgbouncer=true/.test(DATABASE_URL ?? '')) throw new StartError('SEAMLEDGER_INBOX needs a direct connection: give DATABASE_URL without the pooler in transaction mode, or leave SEAMLEDGER_INBOX out');
  if ((SMTP_URL === undefined) !== (MAIL_FROM === undefined)) throw new StartError('environment variables SMTP_URL and MAIL_FROM go together: give both, or neither');
  const outward: Outward = { smtp: SMTP_URL && MAIL_FROM ? { url: SMTP_URL, from: MAIL_FROM } : null, publicUrl: PUBLIC_URL ?? null, metricsToken: METRICS_TOKEN ?? null };
  return { port: PORT, host: HOST, databaseUrl: DATABASE_URL, dataFolder: path.resolve(SEAMLEDGER_DATA), inbox: SEAMLEDGER_INBOX === undefined ? undefined : path.resolve(SEAMLEDGER_INBOX), seed: SEED, outward };
}

/** Addresses that only this machine can reach. */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127\./.test(host);
}
