import { Prisma } from './generated/client.js';

/**
 * Whether a second person reviewed a check as its readings are now: with as many of them replaced as were when it was signed. Signatures from
 * before corrections were counted are told by the clock. Used by reviews and packs, which must say the same.
 */
export const isReviewed = (plantId: number, checkId: Prisma.Sql): Prisma.Sql => Prisma.sql`EXISTS (
  SELECT 1 FROM signature s WHERE s.plant_id = ${plantId} AND s.kind = 'check' AND s.record_id = ${checkId} AND s.meaning = 'reviewed'
    AND CASE WHEN s.corrections IS NULL THEN s.at >= coalesce((SELECT max(r.replaced_at) FROM subgroup_revision r WHERE r.plant_id = ${plantId} AND r.check_id = ${checkId}), '-infinity')
      ELSE s.corrections = (SELECT count(*) FROM subgroup_revision r WHERE r.plant_id = ${plantId} AND r.check_id = ${checkId}) END)`;
