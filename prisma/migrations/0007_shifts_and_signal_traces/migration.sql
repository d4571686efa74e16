-- AlterTable
ALTER TABLE "kept_trace" ADD COLUMN     "signal_id" INTEGER,
ALTER COLUMN "incident_id" DROP NOT NULL;

-- CreateTable
CREATE TABLE "shift" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "begin_minute" INTEGER NOT NULL,
    "end_minute" INTEGER NOT NULL,
    "days" INTEGER[],

    CONSTRAINT "shift_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "shift_plant_id_name_key" ON "shift"("plant_id", "name");

-- CreateIndex
CREATE INDEX "kept_trace_plant_id_signal_id_idx" ON "kept_trace"("plant_id", "signal_id");

-- AddForeignKey
ALTER TABLE "shift" ADD CONSTRAINT "shift_plant_id_fkey" FOREIGN KEY ("plant_id") REFERENCES "plant"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "kept_trace"
  ADD CONSTRAINT "kept_trace_signal_fkey" FOREIGN KEY ("plant_id", "signal_id") REFERENCES "signal"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "kept_trace_of_one" CHECK (("incident_id" IS NULL) <> ("signal_id" IS NULL));
-- Which hours a shift has: not none, and each day of the week at most once.
ALTER TABLE "shift"
  ALTER COLUMN "days" SET NOT NULL,
  ADD CONSTRAINT "shift_is_possible" CHECK ("begin_minute" BETWEEN 0 AND 1439 AND "end_minute" BETWEEN 0 AND 1439 AND "begin_minute" <> "end_minute" AND cardinality("days") BETWEEN 1 AND 7 AND "days" <@ ARRAY[1, 2, 3, 4, 5, 6, 7]);
