import { packSection, packSections, type PackTemplateView } from '#contract/packs';
import type { Tx } from '../platform/work.js';

/** Cpk 1.33 of a running process: Montgomery 1996, quoted from memory. 25 subgroups: common practice, no source. */
export const USUAL_TEMPLATE: PackTemplateView = { sections: [...packSections], cpk: 1.33, ppk: 1.33, subgroups: 25 };
export type StoredTemplate = PackTemplateView & { customer: string; version: number; by: string; reason: string; at: string };

/** The newest version of each customer. */
export async function listTemplates(tx: Tx, plantId: number, customer: string | null): Promise<StoredTemplate[]> {
  const rows = await tx.$queryRaw<(Omit<StoredTemplate, 'at'> & { at: Date })[]>`
    SELECT DISTINCT ON (t.customer) t.customer, t.version, t.sections, t.cpk, t.ppk, t.subgroups, t.reason, t.at, u.name AS by
    FROM pack_template t JOIN "user" u ON u.plant_id = t.plant_id AND u.id = t.author_id
    WHERE t.plant_id = ${plantId} AND (${customer}::text IS NULL OR t.customer = ${customer}) ORDER BY t.customer, t.version DESC`;
  return rows.map((row) => ({ ...row, sections: row.sections.map((section) => packSection.parse(section)), at: row.at.toISOString() }));
}

export async function templateOf(tx: Tx, plantId: number, customer: string): Promise<PackTemplateView> {
  const [found] = await listTemplates(tx, plantId, customer);
  return found ? { sections: found.sections, cpk: found.cpk, ppk: found.ppk, subgroups: found.subgroups } : USUAL_TEMPLATE;
}

/** The next version; two at once collide on the unique key and one is refused. */
export async function insertTemplate(tx: Tx, plantId: number, template: PackTemplateView & { customer: string; reason: string; authorId: number; at: Date }): Promise<number> {
  const last = await tx.packTemplate.aggregate({ where: { plantId, customer: template.customer }, _max: { version: true } });
  const version = (last._max.version ?? 0) + 1;
  await tx.packTemplate.create({ data: { plantId, ...template, version } });
  return version;
}
