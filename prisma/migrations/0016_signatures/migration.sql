-- CreateTable
CREATE TABLE "signature" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "kind" TEXT NOT NULL,
    "record_id" INTEGER NOT NULL,
    "meaning" TEXT NOT NULL,
    "content_hash" TEXT NOT NULL,
    "user_id" INTEGER NOT NULL,
    "printed_name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "comment" TEXT NOT NULL DEFAULT '',
    "at" TIMESTAMPTZ(3) NOT NULL,
    "chain_seq" BIGINT NOT NULL,
    "chain_hash" TEXT NOT NULL,

    CONSTRAINT "signature_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "signature_plant_id_kind_record_id_idx" ON "signature"("plant_id", "kind", "record_id");

-- A signature is never changed or taken back; who changes a record after it was signed leaves a signature that does not cover it any more.
CREATE TRIGGER "signatures_are_kept" BEFORE UPDATE OR DELETE ON "signature" FOR EACH ROW EXECUTE FUNCTION refuse_change();
