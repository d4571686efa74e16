-- AlterTable
ALTER TABLE "production_count" ADD COLUMN     "from_readings" BOOLEAN NOT NULL DEFAULT false;

-- AlterTable
ALTER TABLE "can_code_pattern" ADD COLUMN     "reason" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "retired_by" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "retired_reason" TEXT NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "counter_setting" (
    "plant_id" INTEGER NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "rolls_over_at" DOUBLE PRECISION,
    "most_per_minute" DOUBLE PRECISION,
    "changed_by" TEXT NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "counter_setting_pkey" PRIMARY KEY ("plant_id","machine_id")
);

-- CreateTable
CREATE TABLE "counter_reading" (
    "plant_id" INTEGER NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "good" DOUBLE PRECISION NOT NULL,
    "rejected" DOUBLE PRECISION,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "actor" TEXT NOT NULL,

    CONSTRAINT "counter_reading_pkey" PRIMARY KEY ("plant_id","machine_id","at")
);

-- CreateTable
CREATE TABLE "counter_decision" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "machine_id" INTEGER,
    "kind" TEXT NOT NULL,
    "counter" TEXT,
    "at" TIMESTAMPTZ(3),
    "until" TIMESTAMPTZ(3),
    "cans" DOUBLE PRECISION,
    "least" DOUBLE PRECISION,
    "detail" TEXT NOT NULL DEFAULT '',
    "decided_at" TIMESTAMPTZ(3) NOT NULL,
    "actor" TEXT NOT NULL,

    CONSTRAINT "counter_decision_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "counter_decision_plant_id_machine_id_at_idx" ON "counter_decision"("plant_id", "machine_id", "at");

-- Kept apart from the schema of the machines: each schema file stays its feature's own.
ALTER TABLE "counter_setting" ADD CONSTRAINT "counter_setting_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id");
ALTER TABLE "counter_reading" ADD CONSTRAINT "counter_reading_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id");
ALTER TABLE "counter_decision" ADD CONSTRAINT "counter_decision_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id");
ALTER TABLE "counter_setting" ADD CONSTRAINT "counter_setting_is_possible" CHECK (("rolls_over_at" IS NULL OR "rolls_over_at" >= 2) AND ("most_per_minute" IS NULL OR "most_per_minute" > 0));
ALTER TABLE "counter_reading" ADD CONSTRAINT "counter_reading_is_a_number_of_cans" CHECK ("good" >= 0 AND "good" = floor("good") AND "good" < 'infinity' AND ("rejected" IS NULL OR ("rejected" >= 0 AND "rejected" = floor("rejected") AND "rejected" < 'infinity')));

-- What a machine showed, and what was decided about it, stays as it was.
CREATE TRIGGER "counter_readings_are_kept" BEFORE UPDATE OR DELETE ON "counter_reading" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "counter_decisions_are_kept" BEFORE UPDATE OR DELETE ON "counter_decision" FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- Retiring a pattern now says who and why, in the one change that a pattern allows.
CREATE OR REPLACE FUNCTION keep_can_code_pattern() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.retired_at IS NOT NULL OR (to_jsonb(OLD) - ARRAY['retired_at', 'retired_by', 'retired_reason']) <> (to_jsonb(NEW) - ARRAY['retired_at', 'retired_by', 'retired_reason']) THEN
    RAISE EXCEPTION 'a can-code pattern is superseded or retired, never changed or removed';
  END IF;
  RETURN NEW;
END $$;
