-- AlterTable
ALTER TABLE "retention_act" ADD COLUMN     "kind" TEXT NOT NULL DEFAULT 'check',
ADD COLUMN     "records" INTEGER NOT NULL DEFAULT 0;

-- CreateTable
CREATE TABLE "retention_record" (
    "plant_id" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "record_id" INTEGER NOT NULL,
    "act_id" INTEGER NOT NULL,

    CONSTRAINT "retention_record_pkey" PRIMARY KEY ("plant_id","kind","record_id")
);

-- What the schema language does not say ------------------------------------------------------------------------------

ALTER TABLE "retention_record" ADD CONSTRAINT "retention_record_kind" CHECK ("kind" IN ('pack', 'study', 'study-record'));
ALTER TABLE "retention_record" ADD CONSTRAINT "retention_record_act_fkey" FOREIGN KEY ("plant_id", "act_id") REFERENCES "retention_act"("plant_id", "id");
CREATE TRIGGER "retention_records_are_kept" BEFORE UPDATE OR DELETE ON "retention_record" FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- Packs and studies may go only where an act of retention names them; changed they are never.
CREATE FUNCTION retention_names(plant integer, what text, record integer) RETURNS boolean LANGUAGE sql STABLE AS $$
  SELECT EXISTS (SELECT 1 FROM retention_record d WHERE d.plant_id = plant AND d.kind = what AND d.record_id = record);
$$;
CREATE FUNCTION keep_pack() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' AND retention_names(OLD.plant_id, 'pack', OLD.id) THEN RETURN OLD; END IF;
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
CREATE FUNCTION keep_study() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' AND retention_names(OLD.plant_id, 'study', OLD.id) THEN RETURN OLD; END IF;
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
CREATE FUNCTION keep_study_step() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' AND retention_names(OLD.plant_id, 'study-record', OLD.record_id) THEN RETURN OLD; END IF;
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
DROP TRIGGER "packs_are_kept" ON "pack";
CREATE TRIGGER "packs_are_kept" BEFORE UPDATE OR DELETE ON "pack" FOR EACH ROW EXECUTE FUNCTION keep_pack();
DROP TRIGGER "studies_are_kept" ON "study";
CREATE TRIGGER "studies_are_kept" BEFORE UPDATE OR DELETE ON "study" FOR EACH ROW EXECUTE FUNCTION keep_study();
DROP TRIGGER "study_steps_are_append_only" ON "study_step";
CREATE TRIGGER "study_steps_are_append_only" BEFORE UPDATE OR DELETE ON "study_step" FOR EACH ROW EXECUTE FUNCTION keep_study_step();

-- The triggers of studies stay as they are for every change; for a deletion that an act names, these come before.
ALTER FUNCTION keep_study_record() RENAME TO keep_study_record_unchanged;
DROP TRIGGER "study_records_are_kept" ON "study_record";
CREATE FUNCTION keep_study_record_removed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF retention_names(OLD.plant_id, 'study-record', OLD.id) THEN RETURN OLD; END IF;
  RAISE EXCEPTION 'a study is superseded, never removed' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER "study_records_are_kept" BEFORE UPDATE ON "study_record" FOR EACH ROW EXECUTE FUNCTION keep_study_record_unchanged();
CREATE TRIGGER "study_records_are_not_removed" BEFORE DELETE ON "study_record" FOR EACH ROW EXECUTE FUNCTION keep_study_record_removed();
ALTER FUNCTION keep_gauge_trial() RENAME TO keep_gauge_trial_unchanged;
DROP TRIGGER "gauge_trials_are_kept" ON "gauge_trial";
CREATE FUNCTION keep_gauge_trial_removed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF retention_names(OLD.plant_id, 'study-record', OLD.record_id) THEN RETURN OLD; END IF;
  RAISE EXCEPTION 'the readings of a gauge study are kept' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER "gauge_trials_are_kept" BEFORE UPDATE ON "gauge_trial" FOR EACH ROW EXECUTE FUNCTION keep_gauge_trial_unchanged();
CREATE TRIGGER "gauge_trials_are_not_removed" BEFORE DELETE ON "gauge_trial" FOR EACH ROW EXECUTE FUNCTION keep_gauge_trial_removed();

-- A study keeps the number of the one that it took the place of, also when that one is past its retention and gone.
ALTER TABLE "study_record" DROP CONSTRAINT "study_record_supersedes";
