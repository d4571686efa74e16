-- AlterTable
ALTER TABLE "check" ADD COLUMN     "begun_at" TIMESTAMPTZ(3),
ADD COLUMN     "finished_at" TIMESTAMPTZ(3),
ADD COLUMN     "second_readings" JSONB NOT NULL DEFAULT '[]',
ADD COLUMN     "skips" JSONB NOT NULL DEFAULT '[]';

-- AlterTable
ALTER TABLE "check_plan" ADD COLUMN     "cans_source" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "events_source" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "every_cans" INTEGER,
ADD COLUMN     "long_stop_minutes" INTEGER,
ADD COLUMN     "opened_by" TEXT[] DEFAULT ARRAY[]::TEXT[],
ADD COLUMN     "revision" INTEGER NOT NULL DEFAULT 1,
ADD COLUMN     "units_each_time" INTEGER;

-- CreateTable
CREATE TABLE "check_count" (
    "plant_id" INTEGER NOT NULL,
    "check_id" INTEGER NOT NULL,
    "characteristic_id" INTEGER NOT NULL,
    "inspected" INTEGER NOT NULL,
    "nonconforming" INTEGER NOT NULL,

    CONSTRAINT "check_count_pkey" PRIMARY KEY ("plant_id","check_id","characteristic_id")
);

-- CreateTable
CREATE TABLE "check_rating" (
    "plant_id" INTEGER NOT NULL,
    "check_id" INTEGER NOT NULL,
    "characteristic_id" INTEGER NOT NULL,
    "can" SMALLINT NOT NULL,
    "position" SMALLINT NOT NULL,
    "rating" SMALLINT NOT NULL,

    CONSTRAINT "check_rating_pkey" PRIMARY KEY ("plant_id","check_id","characteristic_id","can","position")
);

-- CreateTable
CREATE TABLE "due_skip" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "plan_id" INTEGER NOT NULL,
    "event_id" INTEGER,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "reason" TEXT NOT NULL,
    "skipped_by" INTEGER NOT NULL,
    "actor" TEXT NOT NULL,

    CONSTRAINT "due_skip_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "assignment" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "user_id" INTEGER NOT NULL,
    "line_id" INTEGER,
    "machine_id" INTEGER,

    CONSTRAINT "assignment_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "check_plan_revision" (
    "plant_id" INTEGER NOT NULL,
    "plan_id" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "author" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "plan" JSONB NOT NULL,

    CONSTRAINT "check_plan_revision_pkey" PRIMARY KEY ("plant_id","plan_id","revision")
);

-- CreateTable
CREATE TABLE "reaction_plan" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "stream_id" INTEGER,
    "characteristic_id" INTEGER,
    "step_kind" TEXT,
    "version" INTEGER NOT NULL,
    "steps" TEXT[],
    "author" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "reaction_plan_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "due_skip_plant_id_plan_id_at_idx" ON "due_skip"("plant_id", "plan_id", "at");

-- CreateIndex
CREATE INDEX "assignment_plant_id_user_id_idx" ON "assignment"("plant_id", "user_id");

-- CreateIndex
CREATE INDEX "reaction_plan_plant_id_stream_id_idx" ON "reaction_plan"("plant_id", "stream_id");

-- CreateIndex
CREATE INDEX "reaction_plan_plant_id_characteristic_id_idx" ON "reaction_plan"("plant_id", "characteristic_id");

-- AddForeignKey
ALTER TABLE "check_count" ADD CONSTRAINT "check_count_plant_id_check_id_fkey" FOREIGN KEY ("plant_id", "check_id") REFERENCES "check"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check_rating" ADD CONSTRAINT "check_rating_plant_id_check_id_fkey" FOREIGN KEY ("plant_id", "check_id") REFERENCES "check"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What belongs to other features is tied here, so that each schema file stays its feature's own.
ALTER TABLE "check" ADD CONSTRAINT "check_device_times" CHECK ("begun_at" IS NULL OR "finished_at" IS NULL OR "begun_at" <= "finished_at");
ALTER TABLE "check_count"
  ADD CONSTRAINT "check_count_characteristic_fkey" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "check_count_adds_up" CHECK ("inspected" >= 1 AND "nonconforming" BETWEEN 0 AND "inspected");
ALTER TABLE "check_rating" ADD CONSTRAINT "check_rating_characteristic_fkey" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "due_skip"
  ADD CONSTRAINT "due_skip_plan_fkey" FOREIGN KEY ("plant_id", "plan_id") REFERENCES "check_plan"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "due_skip_event_fkey" FOREIGN KEY ("plant_id", "event_id") REFERENCES "line_event"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "due_skip_by_fkey" FOREIGN KEY ("plant_id", "skipped_by") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "due_skip_has_reason" CHECK (btrim("reason") <> '');
ALTER TABLE "check_plan" ADD CONSTRAINT "check_plan_floor" CHECK ("every_cans" > 0 AND "units_each_time" > 0 AND "long_stop_minutes" > 0);
ALTER TABLE "check_plan_revision" ADD CONSTRAINT "check_plan_revision_plan_fkey" FOREIGN KEY ("plant_id", "plan_id") REFERENCES "check_plan"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "reaction_plan"
  ADD CONSTRAINT "reaction_plan_stream_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "reaction_plan_characteristic_fkey" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "reaction_plan_author_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "reaction_plan_scope" CHECK (("stream_id" IS NULL) = ("characteristic_id" IS NOT NULL) AND ("characteristic_id" IS NULL) = ("step_kind" IS NULL));
CREATE UNIQUE INDEX "reaction_plan_version" ON "reaction_plan" ("plant_id", "stream_id", "characteristic_id", "step_kind", "version") NULLS NOT DISTINCT;
ALTER TABLE "assignment"
  ADD CONSTRAINT "assignment_user_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "assignment_line_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "assignment_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "assignment_of_one" CHECK (("line_id" IS NULL) <> ("machine_id" IS NULL));
CREATE UNIQUE INDEX "assignment_once" ON "assignment" ("plant_id", "user_id", "line_id", "machine_id") NULLS NOT DISTINCT;

-- What was counted, rated, skipped, planned and told to do is never rewritten.
CREATE TRIGGER "check_counts_are_kept" BEFORE UPDATE OR DELETE ON "check_count" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "check_ratings_are_kept" BEFORE UPDATE OR DELETE ON "check_rating" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "due_skips_are_kept" BEFORE UPDATE OR DELETE ON "due_skip" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "check_plan_revisions_are_kept" BEFORE UPDATE OR DELETE ON "check_plan_revision" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "reaction_plans_are_versions" BEFORE UPDATE OR DELETE ON "reaction_plan" FOR EACH ROW EXECUTE FUNCTION refuse_change();
