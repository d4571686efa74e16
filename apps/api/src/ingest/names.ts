/** What a file may call things: each by code or by name, in small letters. */
export type Names = {
  machines: Map<string, { id: number; code: string; lineId: number; stepKind: string; units: Map<string, number>; lanes: Map<string, number> }>;
  products: Map<string, { id: number; code: string }>;
  characteristics: Map<string, { id: number; code: string; name: string; unit: string; stepKind: string; derived: boolean; plausibleLow: number | null; plausibleHigh: number | null }>;
  gauges: Map<string, number>;
};

export const nameKey = (text: string): string => text.normalize('NFKC').trim().toLowerCase().replace(/\s+/g, ' ');
