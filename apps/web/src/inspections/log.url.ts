/** What is chosen on the entry screen, kept in the address so that a link from elsewhere opens the right sheet. */
export type LogView = { machine: number | null; plan: number | null; product: number | null };

export function readLogView(query: URLSearchParams): LogView {
  const id = (name: string) => { const value = Number(query.get(name)); return Number.isInteger(value) && value > 0 ? value : null; };
  return { machine: id('machine'), plan: id('plan'), product: id('product') };
}

export function writeLogView(view: LogView): URLSearchParams {
  return new URLSearchParams(Object.entries(view).flatMap(([name, value]): [string, string][] => (value === null ? [] : [[name, String(value)]])));
}
