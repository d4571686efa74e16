import { z } from 'zod';

/** How a person likes to enter, on this device: kept by the browser, not by the plant. */
const entrySettings = z.object({
  /** Go on by itself when a number is complete. */
  advance: z.boolean().default(true),
  /** Show large keys on the screen; null follows whether the device is used by touch. */
  pad: z.boolean().nullable().default(null),
  /** Where in a line of a serial gauge the number stands; empty for the usual. */
  serialPattern: z.string().max(200).default(''),
  serialBaud: z.number().int().min(300).max(921_600).default(9600),
});
export type EntrySettings = z.infer<typeof entrySettings>;
const NAME = 'seamledger.entry-settings';

export function loadSettings(): EntrySettings {
  try {
    const parsed = entrySettings.safeParse(JSON.parse(localStorage.getItem(NAME) ?? '{}'));
    return parsed.success ? parsed.data : entrySettings.parse({});
  } catch {
    return entrySettings.parse({});
  }
}

export function keepSettings(settings: EntrySettings): void {
  try { localStorage.setItem(NAME, JSON.stringify(settings)); } catch { /* Storage that is full or switched off only costs the convenience. */ }
}
