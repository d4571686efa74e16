-- CreateTable
CREATE TABLE "gauge_calibration" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "gauge_id" INTEGER NOT NULL,
    "calibrated_at" TIMESTAMPTZ(3) NOT NULL,
    "result" TEXT NOT NULL,
    "certificate" TEXT NOT NULL,
    "calibrated_by" TEXT NOT NULL,
    "due_at" TIMESTAMPTZ(3),
    "previous_due" TIMESTAMPTZ(3),
    "note" TEXT NOT NULL DEFAULT '',
    "entered_by" INTEGER NOT NULL,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "gauge_calibration_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "study_record" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "kind" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "state" TEXT NOT NULL,
    "product_id" INTEGER,
    "machine_id" INTEGER,
    "characteristic_id" INTEGER NOT NULL,
    "gauge_id" INTEGER,
    "question" JSONB NOT NULL,
    "inputs" JSONB,
    "inputs_hash" TEXT,
    "results" JSONB,
    "verdict" TEXT,
    "version" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "approved_at" TIMESTAMPTZ(3),
    "supersedes_id" INTEGER,
    "superseded_by_id" INTEGER,

    CONSTRAINT "study_record_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "study_step" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "record_id" INTEGER NOT NULL,
    "state" TEXT NOT NULL,
    "actor" TEXT NOT NULL,
    "user_id" INTEGER NOT NULL,
    "comment" TEXT NOT NULL DEFAULT '',
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "study_step_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "gauge_trial" (
    "plant_id" INTEGER NOT NULL,
    "record_id" INTEGER NOT NULL,
    "sequence" INTEGER NOT NULL,
    "person" INTEGER NOT NULL,
    "part" INTEGER NOT NULL,
    "repeat" INTEGER NOT NULL,
    "value" DOUBLE PRECISION,
    "entered_by" INTEGER,
    "entered_at" TIMESTAMPTZ(3),
    "retakes" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "gauge_trial_pkey" PRIMARY KEY ("plant_id","record_id","sequence")
);

-- CreateTable
CREATE TABLE "study_threshold" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "gauge_accept" DOUBLE PRECISION NOT NULL,
    "gauge_reject" DOUBLE PRECISION NOT NULL,
    "categories" INTEGER NOT NULL,
    "kappa_accept" DOUBLE PRECISION NOT NULL,
    "kappa_reject" DOUBLE PRECISION NOT NULL,
    "source" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "study_threshold_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "gauge_calibration_plant_id_gauge_id_calibrated_at_idx" ON "gauge_calibration"("plant_id", "gauge_id", "calibrated_at");

-- CreateIndex
CREATE INDEX "study_record_plant_id_gauge_id_characteristic_id_idx" ON "study_record"("plant_id", "gauge_id", "characteristic_id");

-- CreateIndex
CREATE INDEX "study_step_plant_id_record_id_idx" ON "study_step"("plant_id", "record_id");

-- AddForeignKey
ALTER TABLE "gauge_calibration" ADD CONSTRAINT "gauge_calibration_plant_id_gauge_id_fkey" FOREIGN KEY ("plant_id", "gauge_id") REFERENCES "gauge"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "study_step" ADD CONSTRAINT "study_step_plant_id_record_id_fkey" FOREIGN KEY ("plant_id", "record_id") REFERENCES "study_record"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "gauge_trial" ADD CONSTRAINT "gauge_trial_plant_id_record_id_fkey" FOREIGN KEY ("plant_id", "record_id") REFERENCES "study_record"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A study keeps what was asked from the beginning, and what came out once it is there. Its state goes one way; approved, only a newer study takes its place.
CREATE FUNCTION keep_study_record() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  changing text[] := ARRAY['state', 'approved_at', 'superseded_by_id'];
BEGIN
  IF TG_OP = 'DELETE' THEN
    RAISE EXCEPTION 'a study is superseded, never removed' USING ERRCODE = 'restrict_violation';
  END IF;
  IF OLD.state = 'measuring' THEN
    changing := changing || ARRAY['inputs', 'inputs_hash', 'results', 'verdict', 'version'];
  END IF;
  IF (to_jsonb(OLD) - changing) <> (to_jsonb(NEW) - changing) THEN
    RAISE EXCEPTION 'a study keeps what was asked and what came out' USING ERRCODE = 'restrict_violation';
  END IF;
  IF NOT (OLD.state, NEW.state) IN (('measuring', 'draft'), ('draft', 'checked'), ('checked', 'approved'), ('measuring', 'superseded'), ('draft', 'superseded'), ('checked', 'superseded'), ('approved', 'superseded')) THEN
    RAISE EXCEPTION 'a study does not go from % to %', OLD.state, NEW.state USING ERRCODE = 'restrict_violation';
  END IF;
  IF OLD.state = 'approved' AND OLD.approved_at IS DISTINCT FROM NEW.approved_at THEN
    RAISE EXCEPTION 'an approval keeps its time' USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "study_records_are_kept" BEFORE UPDATE OR DELETE ON "study_record" FOR EACH ROW EXECUTE FUNCTION keep_study_record();
CREATE TRIGGER "study_steps_are_append_only" BEFORE UPDATE OR DELETE ON "study_step" FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- Readings of a gauge study change only while it is being measured; the order in which they are taken never does.
CREATE FUNCTION keep_gauge_trial() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  changing text[] := ARRAY['value', 'entered_by', 'entered_at', 'retakes'];
BEGIN
  IF TG_OP = 'DELETE' OR (to_jsonb(OLD) - changing) <> (to_jsonb(NEW) - changing)
    OR (SELECT state FROM study_record WHERE plant_id = OLD.plant_id AND id = OLD.record_id) <> 'measuring' THEN
    RAISE EXCEPTION 'the readings of a gauge study are kept' USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "gauge_trials_are_kept" BEFORE UPDATE OR DELETE ON "gauge_trial" FOR EACH ROW EXECUTE FUNCTION keep_gauge_trial();
CREATE TRIGGER "gauge_calibrations_are_kept" BEFORE UPDATE OR DELETE ON "gauge_calibration" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "study_thresholds_are_kept" BEFORE UPDATE OR DELETE ON "study_threshold" FOR EACH ROW EXECUTE FUNCTION refuse_change();

ALTER TABLE "study_record" ADD CONSTRAINT "study_record_kind" CHECK ("kind" IN ('capability', 'gauge', 'before-after'));
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_complete" CHECK (("state" IN ('measuring', 'superseded')) OR ("results" IS NOT NULL AND "inputs" IS NOT NULL AND "inputs_hash" IS NOT NULL));
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_approved" CHECK (("state" <> 'approved') OR ("approved_at" IS NOT NULL));
ALTER TABLE "study_threshold" ADD CONSTRAINT "study_threshold_order" CHECK ("gauge_accept" > 0 AND "gauge_accept" <= "gauge_reject" AND "kappa_reject" <= "kappa_accept" AND "categories" >= 1);
ALTER TABLE "gauge_calibration" ADD CONSTRAINT "gauge_calibration_result" CHECK ("result" IN ('passed', 'adjusted', 'failed'));

-- Across features, in the migration alone.
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_author" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id");
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_characteristic" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id");
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_gauge" FOREIGN KEY ("plant_id", "gauge_id") REFERENCES "gauge"("plant_id", "id");
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_product" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id");
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_machine" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id");
ALTER TABLE "study_record" ADD CONSTRAINT "study_record_supersedes" FOREIGN KEY ("plant_id", "supersedes_id") REFERENCES "study_record"("plant_id", "id");
ALTER TABLE "gauge_calibration" ADD CONSTRAINT "gauge_calibration_author" FOREIGN KEY ("plant_id", "entered_by") REFERENCES "user"("plant_id", "id");
