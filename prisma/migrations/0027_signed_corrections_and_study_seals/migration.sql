-- AlterTable
ALTER TABLE "signature" ADD COLUMN     "corrections" INTEGER;

-- What the schema language does not say ------------------------------------------------------------------------------

-- Which state of a check a signature covers: counted, not told from clocks, which two transactions at one moment read in either order.
ALTER TABLE "signature" ADD CONSTRAINT "signature_counts_corrections_of_checks" CHECK ("corrections" IS NULL OR ("kind" = 'check' AND "corrections" >= 0));

-- Seals of studies: the acts that keep or change one write it into the audit trail, and the comparison of everything stored computes it anew.
CREATE FUNCTION study_seal(s "study") RETURNS text LANGUAGE sql STABLE AS $$
  SELECT encode(sha256(convert_to(jsonb_build_array(s.title, s.note, s.state, s.answers, s.version, s.author_id)::text, 'UTF8')), 'hex');
$$;
CREATE FUNCTION study_record_seal(s "study_record") RETURNS text LANGUAGE sql STABLE AS $$
  SELECT encode(sha256(convert_to(jsonb_build_array(s.kind, s.title, s.note, s.product_id, s.machine_id, s.characteristic_id, s.gauge_id, s.question, s.inputs, s.inputs_hash, s.results, s.verdict, s.version, s.author_id, s.supersedes_id)::text, 'UTF8')), 'hex');
$$;
