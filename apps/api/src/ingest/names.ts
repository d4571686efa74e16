/** What a file may call things: each by code or by name, in small letters. Null: several things are called that. */
export type Lookup<Value> = ReadonlyMap<string, Value | null>;
export type NamedMachine = { id: number; code: string; lineId: number; stepKind: string; units: Lookup<number>; lanes: Lookup<number> };
export type NamedCharacteristic = { id: number; code: string; name: string; unit: string; stepKind: string; derived: boolean; plausibleLow: number | null; plausibleHigh: number | null };
export type Names = { machines: Lookup<NamedMachine>; products: Lookup<{ id: number; code: string }>; characteristics: Lookup<NamedCharacteristic>; gauges: Lookup<number> };

export const nameKey = (text: string): string => text.normalize('NFKC').trim().toLowerCase().replace(/\s+/g, ' ');

/** Codes are one of a kind and win; a name that two things share names neither of them. */
export function lookupOf<Value>(entries: readonly { code: string; name?: string; value: Value }[]): Lookup<Value> {
  const lookup = new Map<string, Value | null>();
  const add = (text: string, value: Value) => lookup.set(nameKey(text), lookup.has(nameKey(text)) && lookup.get(nameKey(text)) !== value ? null : value);
  for (const { code, value } of entries) add(code, value);
  const codes = new Set(lookup.keys());
  for (const { name, value } of entries) if (name !== undefined && !codes.has(nameKey(name))) add(name, value);
  return lookup;
}
