-- AlterTable
ALTER TABLE "import" ADD COLUMN     "feed" TEXT,
ADD COLUMN     "stopped_by" INTEGER,
ALTER COLUMN "started_by" DROP NOT NULL;

-- AlterTable
ALTER TABLE "check" ADD COLUMN     "feed" TEXT,
ALTER COLUMN "entered_by" DROP NOT NULL;

-- CreateTable
CREATE TABLE "feed_token" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "token_hash" TEXT NOT NULL,
    "hint" TEXT NOT NULL,
    "scopes" TEXT[],
    "machine_ids" INTEGER[],
    "per_minute" INTEGER NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_used_at" TIMESTAMPTZ(3),
    "window_at" TIMESTAMPTZ(3),
    "window_used" INTEGER NOT NULL DEFAULT 0,
    "revoked_at" TIMESTAMPTZ(3),
    "revoked_by" INTEGER,
    "revoke_reason" TEXT,

    CONSTRAINT "feed_token_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "feed_token_token_hash_idx" ON "feed_token"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "feed_token_plant_id_token_hash_key" ON "feed_token"("plant_id", "token_hash");

-- Names are free again once a token is revoked; a revocation names its person, moment and reason.
CREATE UNIQUE INDEX "feed_token_name_in_use" ON "feed_token"("plant_id", "name") WHERE "revoked_at" IS NULL;
ALTER TABLE "feed_token" ADD CONSTRAINT "feed_token_scopes" CHECK (cardinality("scopes") > 0 AND "scopes" <@ ARRAY['checks', 'counts', 'line-events']);
ALTER TABLE "feed_token" ADD CONSTRAINT "feed_token_revoked_by_somebody" CHECK (("revoked_at" IS NULL) = ("revoked_by" IS NULL) AND ("revoked_at" IS NULL) = ("revoke_reason" IS NULL));

-- What is stored names who or what brought it.
ALTER TABLE "check" ADD CONSTRAINT "check_came_from_somewhere" CHECK ("entered_by" IS NOT NULL OR "feed" IS NOT NULL);
ALTER TABLE "import" ADD CONSTRAINT "import_came_from_somewhere" CHECK ("started_by" IS NOT NULL OR "feed" IS NOT NULL);
