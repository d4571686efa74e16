-- AlterTable
ALTER TABLE "incident" ADD COLUMN     "coded_at_step_id" INTEGER,
ADD COLUMN     "lane_id" INTEGER,
ADD COLUMN     "made_until" TIMESTAMPTZ(3),
ADD COLUMN     "unit_id" INTEGER;

-- CreateTable
CREATE TABLE "can_code_pattern" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER NOT NULL,
    "pattern" TEXT NOT NULL,
    "coded_at_step_id" INTEGER NOT NULL,
    "clock_minutes" DOUBLE PRECISION NOT NULL DEFAULT 2,
    "effective_from" TIMESTAMPTZ(3) NOT NULL,
    "example" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "can_code_pattern_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "hold" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER NOT NULL,
    "step_id" INTEGER,
    "machine_id" INTEGER,
    "unit_id" INTEGER,
    "lane_id" INTEGER,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "until_at" TIMESTAMPTZ(3) NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "reason" TEXT NOT NULL,
    "arithmetic" JSONB NOT NULL,
    "disposition" TEXT,
    "signal_id" INTEGER,
    "incident_id" INTEGER,
    "opened_by" INTEGER NOT NULL,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,
    "revision" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "hold_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "hold_pallet" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "hold_id" INTEGER NOT NULL,
    "code" TEXT NOT NULL,
    "from_at" TIMESTAMPTZ(3),
    "until_at" TIMESTAMPTZ(3),
    "disposition" TEXT,
    "decided_in" INTEGER,

    CONSTRAINT "hold_pallet_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "hold_step" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "hold_id" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "user_id" INTEGER,
    "actor" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "comment" TEXT,
    "detail" JSONB,

    CONSTRAINT "hold_step_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "can_code_pattern_plant_id_line_id_effective_from_key" ON "can_code_pattern"("plant_id", "line_id", "effective_from");

-- CreateIndex
CREATE INDEX "hold_plant_id_state_opened_at_idx" ON "hold"("plant_id", "state", "opened_at");

-- CreateIndex
CREATE INDEX "hold_plant_id_incident_id_idx" ON "hold"("plant_id", "incident_id");

-- CreateIndex
CREATE INDEX "hold_plant_id_signal_id_idx" ON "hold"("plant_id", "signal_id");

-- CreateIndex
CREATE UNIQUE INDEX "hold_pallet_plant_id_hold_id_code_key" ON "hold_pallet"("plant_id", "hold_id", "code");

-- CreateIndex
CREATE INDEX "hold_step_plant_id_hold_id_idx" ON "hold_step"("plant_id", "hold_id");

-- AddForeignKey
ALTER TABLE "hold_pallet" ADD CONSTRAINT "hold_pallet_plant_id_hold_id_fkey" FOREIGN KEY ("plant_id", "hold_id") REFERENCES "hold"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hold_step" ADD CONSTRAINT "hold_step_plant_id_hold_id_fkey" FOREIGN KEY ("plant_id", "hold_id") REFERENCES "hold"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What belongs to other features is tied here, so that each schema file stays its feature's own.
ALTER TABLE "can_code_pattern"
  ADD CONSTRAINT "can_code_pattern_line_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "can_code_pattern_step_fkey" FOREIGN KEY ("plant_id", "coded_at_step_id") REFERENCES "step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "can_code_pattern_author_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "can_code_pattern_clock" CHECK ("clock_minutes" >= 0);
ALTER TABLE "incident"
  ADD CONSTRAINT "incident_coded_at_step_fkey" FOREIGN KEY ("plant_id", "coded_at_step_id") REFERENCES "step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "incident_lane_fkey" FOREIGN KEY ("plant_id", "lane_id") REFERENCES "lane"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "incident_unit_fkey" FOREIGN KEY ("plant_id", "unit_id") REFERENCES "unit"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "incident_made_span" CHECK ("made_until" IS NULL OR "made_until" > "made_at");
ALTER TABLE "hold"
  ADD CONSTRAINT "hold_line_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_step_at_fkey" FOREIGN KEY ("plant_id", "step_id") REFERENCES "step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_unit_fkey" FOREIGN KEY ("plant_id", "unit_id") REFERENCES "unit"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_lane_fkey" FOREIGN KEY ("plant_id", "lane_id") REFERENCES "lane"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_signal_fkey" FOREIGN KEY ("plant_id", "signal_id") REFERENCES "signal"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_incident_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_opened_by_fkey" FOREIGN KEY ("plant_id", "opened_by") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "hold_span" CHECK ("until_at" > "from_at"),
  ADD CONSTRAINT "hold_state" CHECK ("state" IN ('proposed', 'placed', 'under-examination', 'decided', 'withdrawn')),
  ADD CONSTRAINT "hold_decided" CHECK (("state" = 'decided') = ("disposition" IS NOT NULL));
ALTER TABLE "hold_pallet"
  ADD CONSTRAINT "hold_pallet_span" CHECK (("from_at" IS NULL) = ("until_at" IS NULL) AND ("until_at" IS NULL OR "until_at" > "from_at")),
  ADD CONSTRAINT "hold_pallet_disposition" CHECK ("disposition" IN ('released', 'scrapped', 'reworked', 'returned') AND "decided_in" IS NOT NULL OR "disposition" IS NULL AND "decided_in" IS NULL),
  ADD CONSTRAINT "hold_pallet_decided_in_fkey" FOREIGN KEY ("plant_id", "decided_in") REFERENCES "hold_step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What was done with held product is never rewritten; nor is what a hold was placed on.
CREATE TRIGGER "hold_steps_are_append_only" BEFORE UPDATE OR DELETE ON "hold_step" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE FUNCTION keep_hold_as_placed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR (to_jsonb(OLD) - ARRAY['state', 'disposition', 'changed_at', 'revision']) <> (to_jsonb(NEW) - ARRAY['state', 'disposition', 'changed_at', 'revision']) THEN
    RAISE EXCEPTION 'a hold keeps what it was placed on' USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "holds_are_kept" BEFORE UPDATE OR DELETE ON "hold" FOR EACH ROW EXECUTE FUNCTION keep_hold_as_placed();
-- A pattern is superseded or retired, never edited: codes that were printed by it must stay readable.
CREATE FUNCTION keep_can_code_pattern() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.retired_at IS NOT NULL OR (to_jsonb(OLD) - 'retired_at') <> (to_jsonb(NEW) - 'retired_at') THEN
    RAISE EXCEPTION 'a can-code pattern is never edited' USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "can_code_patterns_are_kept" BEFORE UPDATE OR DELETE ON "can_code_pattern" FOR EACH ROW EXECUTE FUNCTION keep_can_code_pattern();
