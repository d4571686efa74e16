-- CreateTable
CREATE TABLE "pack" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "customer" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "product_ids" INTEGER[],
    "period_from" TIMESTAMPTZ(3) NOT NULL,
    "period_to" TIMESTAMPTZ(3) NOT NULL,
    "content" BYTEA NOT NULL,
    "sha256" TEXT NOT NULL,
    "subjects" INTEGER NOT NULL,
    "readings" INTEGER NOT NULL,
    "findings" INTEGER NOT NULL,
    "software_version" TEXT NOT NULL,
    "made_by" INTEGER NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "pack_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "pack_job" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "asked_by" INTEGER NOT NULL,
    "customer" TEXT NOT NULL,
    "request" JSONB NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "attempt" INTEGER NOT NULL DEFAULT 0,
    "done" INTEGER NOT NULL DEFAULT 0,
    "total" INTEGER NOT NULL DEFAULT 0,
    "heartbeat_at" TIMESTAMPTZ(3),
    "pack_id" INTEGER,
    "error" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finished_at" TIMESTAMPTZ(3),

    CONSTRAINT "pack_job_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "pack_template" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "customer" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "sections" TEXT[],
    "cpk" DOUBLE PRECISION NOT NULL,
    "ppk" DOUBLE PRECISION NOT NULL,
    "subgroups" INTEGER NOT NULL,
    "author_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "pack_template_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "pack_plant_id_customer_idx" ON "pack"("plant_id", "customer");

-- CreateIndex
CREATE INDEX "pack_job_state_idx" ON "pack_job"("state");

-- CreateIndex
CREATE UNIQUE INDEX "pack_template_plant_id_customer_version_key" ON "pack_template"("plant_id", "customer", "version");

-- The worker looks for what waits or was left behind; there are few of these and many that are done.
DROP INDEX "pack_job_state_idx";
CREATE INDEX "pack_job_state_idx" ON "pack_job"("state") WHERE "state" IN ('waiting', 'running');
ALTER TABLE "pack_job" ADD CONSTRAINT "pack_job_state" CHECK ("state" IN ('waiting', 'running', 'done', 'failed', 'cancelled'));
-- What was handed to a customer stays what it was.
CREATE TRIGGER "packs_are_kept" BEFORE UPDATE OR DELETE ON "pack" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "pack_templates_are_versions" BEFORE UPDATE OR DELETE ON "pack_template" FOR EACH ROW EXECUTE FUNCTION refuse_change();
-- gzip has compressed it already.
ALTER TABLE "pack" ALTER COLUMN "content" SET STORAGE EXTERNAL;
