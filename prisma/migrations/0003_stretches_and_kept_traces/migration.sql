-- AlterTable
ALTER TABLE "line" ADD COLUMN     "clock_minutes" DOUBLE PRECISION NOT NULL DEFAULT 2;

-- CreateTable
CREATE TABLE "stretch" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER NOT NULL,
    "from_step_id" INTEGER NOT NULL,
    "to_step_id" INTEGER NOT NULL,
    "shortest_seconds" DOUBLE PRECISION NOT NULL,
    "longest_seconds" DOUBLE PRECISION NOT NULL,
    "least_cans" INTEGER,
    "most_cans" INTEGER,

    CONSTRAINT "stretch_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "kept_trace" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "kept_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "kept_by" INTEGER NOT NULL,
    "actor" TEXT NOT NULL,
    "chosen" INTEGER,
    "comment" TEXT NOT NULL,
    "software" TEXT NOT NULL,
    "answer" JSONB NOT NULL,

    CONSTRAINT "kept_trace_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "stretch_plant_id_from_step_id_key" ON "stretch"("plant_id", "from_step_id");

-- CreateIndex
CREATE INDEX "kept_trace_plant_id_incident_id_idx" ON "kept_trace"("plant_id", "incident_id");

-- AddForeignKey
ALTER TABLE "stretch" ADD CONSTRAINT "stretch_plant_id_line_id_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stretch" ADD CONSTRAINT "stretch_plant_id_from_step_id_fkey" FOREIGN KEY ("plant_id", "from_step_id") REFERENCES "step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stretch" ADD CONSTRAINT "stretch_plant_id_to_step_id_fkey" FOREIGN KEY ("plant_id", "to_step_id") REFERENCES "step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kept_trace" ADD CONSTRAINT "kept_trace_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A stretch leads onward and its bounds are in order.
ALTER TABLE "stretch" ADD CONSTRAINT "stretch_is_possible" CHECK (from_step_id <> to_step_id AND shortest_seconds >= 0 AND longest_seconds >= shortest_seconds AND coalesce(least_cans, 0) >= 0 AND (most_cans IS NULL OR most_cans >= coalesce(least_cans, 0)));

-- What was kept stays as it was computed.
CREATE TRIGGER "traces_are_kept" BEFORE UPDATE OR DELETE ON "kept_trace" FOR EACH ROW EXECUTE FUNCTION refuse_change();
