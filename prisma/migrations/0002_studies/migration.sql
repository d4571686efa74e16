-- CreateTable
CREATE TABLE "study" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "title" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "state" JSONB NOT NULL,
    "answers" JSONB NOT NULL,
    "version" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "study_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "study_plant_id_created_at_idx" ON "study"("plant_id", "created_at");

-- AddForeignKey
ALTER TABLE "study" ADD CONSTRAINT "study_plant_id_author_id_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What was kept stays as it was computed.
CREATE TRIGGER "studies_are_kept" BEFORE UPDATE OR DELETE ON "study" FOR EACH ROW EXECUTE FUNCTION refuse_change();
