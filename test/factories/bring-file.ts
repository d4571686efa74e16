import { expect } from 'vitest';
import { getImport, type ImportView, type Layout, type Mapping, previewImport, startImport } from '#contract/ingest';
import type { TestApi } from '../db/api.js';

export type FileLook = { import: ImportView; layout: Layout; mapping: Mapping; remembered: boolean; undecided: string[]; header: string[]; sample: string[][] };
type Change = Partial<{ layout: Layout; mapping: Mapping }>;
const askedOf = (look: FileLook, change: Change) => ({ params: { id: look.import.id }, body: { layout: look.layout, mapping: look.mapping, ...change } });

/** Brings a file through the door as a browser does. */
export async function uploadFile(api: TestApi, name: string, content: Uint8Array | string, role: Parameters<TestApi['as']>[0] = 'technician') {
  const edge = 'edge-of-the-parts';
  const payload = Buffer.concat([Buffer.from(`--${edge}\r\ncontent-disposition: form-data; name="file"; filename="${name}"\r\ncontent-type: text/csv\r\n\r\n`), Buffer.from(content), Buffer.from(`\r\n--${edge}--\r\n`)]);
  const reply = await api.as(role).raw({ method: 'POST', url: '/api/imports', payload, headers: { 'content-type': `multipart/form-data; boundary=${edge}` } });
  return { status: reply.status, body: reply.body as FileLook, problem: reply.problem };
}

export async function previewFile(api: TestApi, look: FileLook, change: Change = {}) {
  const { status, body } = await api.as('technician').call(previewImport, askedOf(look, change));
  expect(status, JSON.stringify(body)).toBe(200);
  return { ...body, of: (row: number) => body.sample.find((entry) => entry.row === row) };
}

/** Starts the import and waits for its end. */
export async function bringFile(api: TestApi, look: FileLook, change: Change = {}): Promise<ImportView> {
  const started = await api.as('technician').call(startImport, askedOf(look, change));
  expect(started.status, JSON.stringify(started.body)).toBe(202);
  return ended(api, look.import.id);
}

export async function ended(api: TestApi, id: number): Promise<ImportView> {
  for (let wait = 0; wait < 400; wait += 1) {
    const { body } = await api.as('technician').call(getImport, { params: { id } });
    if (body.state !== 'running') return body;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('the import did not end in 20 s');
}
