/** How the program reaches people and other programs outside: from the environment, see config.ts. */
export type Outward = { smtp: { url: string; from: string } | null; publicUrl: string | null; metricsToken: string | null };
export const OUTWARD = Symbol('OUTWARD');
export const NOTHING_OUTWARD: Outward = { smtp: null, publicUrl: null, metricsToken: null };
