/** What is chosen on the entry screen, kept in the address so that a link from elsewhere opens the right sheet. */
export type LogView = { machine: number | null; plan: number | null; product: number | null; /** Units to ask for; empty = all. */ units: number[] };

export function readLogView(query: URLSearchParams): LogView {
  const id = (name: string) => { const value = Number(query.get(name)); return Number.isInteger(value) && value > 0 ? value : null; };
  const units = (query.get('units') ?? '').split(',').map(Number).filter((value) => Number.isInteger(value) && value > 0);
  return { machine: id('machine'), plan: id('plan'), product: id('product'), units: [...new Set(units)] };
}

export function writeLogView(view: LogView): URLSearchParams {
  const { units, ...one } = view;
  return new URLSearchParams([...Object.entries(one).flatMap(([name, value]): [string, string][] => (value === null ? [] : [[name, String(value)]])), ...(units.length === 0 ? [] : [['units', units.join(',')]])]);
}
