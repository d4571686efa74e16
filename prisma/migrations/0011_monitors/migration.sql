-- CreateTable
CREATE TABLE "feed" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "url" TEXT NOT NULL,
    "client_id" TEXT NOT NULL,
    "protocol" SMALLINT NOT NULL,
    "user_variable" TEXT,
    "password_variable" TEXT,
    "enabled" BOOLEAN NOT NULL DEFAULT true,
    "revision" INTEGER NOT NULL DEFAULT 1,
    "made_by" INTEGER NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "feed_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "feed_topic" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "feed_id" INTEGER NOT NULL,
    "filter" TEXT NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "product_id" INTEGER,
    "late_hours" DOUBLE PRECISION NOT NULL,
    "clock_seconds" DOUBLE PRECISION NOT NULL,
    "clock_policy" TEXT NOT NULL,
    "mapping" JSONB NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "feed_topic_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "feed_state" (
    "plant_id" INTEGER NOT NULL,
    "feed_id" INTEGER NOT NULL,
    "owner" TEXT,
    "lease_until" TIMESTAMPTZ(3),
    "state" TEXT NOT NULL DEFAULT 'stopped',
    "detail" TEXT NOT NULL DEFAULT '',
    "since" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "heard_at" TIMESTAMPTZ(3),
    "clock_ms" DOUBLE PRECISION,
    "messages" BIGINT NOT NULL DEFAULT 0,
    "readings" BIGINT NOT NULL DEFAULT 0,
    "subgroups" BIGINT NOT NULL DEFAULT 0,
    "repeated" BIGINT NOT NULL DEFAULT 0,
    "late" BIGINT NOT NULL DEFAULT 0,
    "retained" BIGINT NOT NULL DEFAULT 0,
    "refused" BIGINT NOT NULL DEFAULT 0,
    "server_timed" BIGINT NOT NULL DEFAULT 0,

    CONSTRAINT "feed_state_pkey" PRIMARY KEY ("plant_id","feed_id")
);

-- CreateTable
CREATE TABLE "feed_journal" (
    "plant_id" INTEGER NOT NULL,
    "id" BIGSERIAL NOT NULL,
    "feed_id" INTEGER NOT NULL,
    "entries" BYTEA NOT NULL,

    CONSTRAINT "feed_journal_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "feed_message_key" (
    "plant_id" INTEGER NOT NULL,
    "topic_id" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "feed_message_key_pkey" PRIMARY KEY ("plant_id","topic_id","key")
);

-- CreateTable
CREATE TABLE "feed_quarantine" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "feed_id" INTEGER NOT NULL,
    "topic" TEXT NOT NULL,
    "payload" BYTEA NOT NULL,
    "sha256" TEXT NOT NULL,
    "first_at" TIMESTAMPTZ(3) NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "times" INTEGER NOT NULL DEFAULT 1,
    "reason" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "as_measured" BOOLEAN NOT NULL DEFAULT false,
    "decided_by" INTEGER,
    "replayed_at" TIMESTAMPTZ(3),
    "decision_reason" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "feed_quarantine_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "body_chunk" (
    "plant_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "minute" TIMESTAMPTZ(3) NOT NULL,
    "part" SMALLINT NOT NULL DEFAULT 0,
    "n" INTEGER NOT NULL,
    "mean" DOUBLE PRECISION NOT NULL,
    "range" DOUBLE PRECISION NOT NULL,
    "sd" DOUBLE PRECISION,
    "low" DOUBLE PRECISION NOT NULL,
    "high" DOUBLE PRECISION NOT NULL,
    "first_count" BIGINT,
    "last_count" BIGINT,
    "offsets" SMALLINT[],
    "readings" REAL[],

    CONSTRAINT "body_chunk_pkey" PRIMARY KEY ("plant_id","stream_id","minute","part")
) PARTITION BY RANGE ("minute");

-- CreateTable
CREATE TABLE "body_chunk_kept" (
    "plant_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "minute" TIMESTAMPTZ(3) NOT NULL,
    "part" SMALLINT NOT NULL,
    "n" INTEGER NOT NULL,
    "mean" DOUBLE PRECISION NOT NULL,
    "range" DOUBLE PRECISION NOT NULL,
    "sd" DOUBLE PRECISION,
    "low" DOUBLE PRECISION NOT NULL,
    "high" DOUBLE PRECISION NOT NULL,
    "first_count" BIGINT,
    "last_count" BIGINT,
    "offsets" SMALLINT[],
    "readings" REAL[],
    "why" TEXT NOT NULL,

    CONSTRAINT "body_chunk_kept_pkey" PRIMARY KEY ("plant_id","stream_id","minute","part")
);

-- CreateTable
CREATE TABLE "feed_setting" (
    "plant_id" INTEGER NOT NULL,
    "keep_days" INTEGER,

    CONSTRAINT "feed_setting_pkey" PRIMARY KEY ("plant_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "feed_plant_id_name_key" ON "feed"("plant_id", "name");

-- CreateIndex
CREATE INDEX "feed_topic_plant_id_feed_id_idx" ON "feed_topic"("plant_id", "feed_id");

-- CreateIndex
CREATE INDEX "feed_journal_plant_id_feed_id_id_idx" ON "feed_journal"("plant_id", "feed_id", "id");

-- CreateIndex
CREATE INDEX "feed_quarantine_plant_id_feed_id_state_last_at_idx" ON "feed_quarantine"("plant_id", "feed_id", "state", "last_at");

-- CreateIndex
CREATE INDEX "feed_quarantine_plant_id_feed_id_sha256_idx" ON "feed_quarantine"("plant_id", "feed_id", "sha256");

-- AddForeignKey
ALTER TABLE "feed_topic" ADD CONSTRAINT "feed_topic_plant_id_feed_id_fkey" FOREIGN KEY ("plant_id", "feed_id") REFERENCES "feed"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "feed_state" ADD CONSTRAINT "feed_state_plant_id_feed_id_fkey" FOREIGN KEY ("plant_id", "feed_id") REFERENCES "feed"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "feed_quarantine" ADD CONSTRAINT "feed_quarantine_plant_id_feed_id_fkey" FOREIGN KEY ("plant_id", "feed_id") REFERENCES "feed"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What the schema language does not say ------------------------------------------------------------------------------

ALTER TABLE "feed" ADD CONSTRAINT "feed_made_by_fkey" FOREIGN KEY ("plant_id", "made_by") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "feed_protocol" CHECK ("protocol" IN (4, 5)),
  ADD CONSTRAINT "feed_variables" CHECK ("user_variable" LIKE 'SEAMLEDGER\_MQTT\_%' AND "password_variable" LIKE 'SEAMLEDGER\_MQTT\_%');
ALTER TABLE "feed_topic" ADD CONSTRAINT "feed_topic_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "feed_topic_product_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "feed_topic_clock_policy" CHECK ("clock_policy" IN ('quarantine', 'server-time'));
CREATE UNIQUE INDEX "feed_topic_filter" ON "feed_topic" ("plant_id", "feed_id", "filter") WHERE "retired_at" IS NULL;
ALTER TABLE "feed_journal" ADD CONSTRAINT "feed_journal_feed_fkey" FOREIGN KEY ("plant_id", "feed_id") REFERENCES "feed"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "feed_message_key" ADD CONSTRAINT "feed_message_key_topic_fkey" FOREIGN KEY ("plant_id", "topic_id") REFERENCES "feed_topic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "feed_quarantine" ADD CONSTRAINT "feed_quarantine_state" CHECK ("state" IN ('waiting', 'replay-asked', 'replayed', 'discarded'));
ALTER TABLE "feed_setting" ADD CONSTRAINT "feed_setting_plant_fkey" FOREIGN KEY ("plant_id") REFERENCES "plant"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "body_chunk" ADD CONSTRAINT "body_chunk_stream_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "body_chunk_places" CHECK (("first_count" IS NULL) = ("last_count" IS NULL) AND cardinality("offsets") = CASE WHEN "first_count" IS NULL THEN cardinality("readings") ELSE 0 END);
ALTER TABLE "body_chunk_kept" ADD CONSTRAINT "body_chunk_kept_stream_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Readings of real machines do not compress: trying costs more than it saves.
ALTER TABLE "body_chunk" ALTER COLUMN "readings" SET STORAGE EXTERNAL, ALTER COLUMN "offsets" SET STORAGE EXTERNAL;
ALTER TABLE "body_chunk_kept" ALTER COLUMN "readings" SET STORAGE EXTERNAL, ALTER COLUMN "offsets" SET STORAGE EXTERNAL;
ALTER TABLE "feed_journal" ALTER COLUMN "entries" SET STORAGE EXTERNAL;
-- A row a batch, gone within minutes: the room of folded ones is to be used again at once.
ALTER TABLE "feed_journal" SET (autovacuum_vacuum_scale_factor = 0, autovacuum_vacuum_threshold = 200, toast.autovacuum_vacuum_scale_factor = 0, toast.autovacuum_vacuum_threshold = 2000);
ALTER TABLE "feed_state" SET (fillfactor = 50);

-- Makes the month of a moment (UTC) where it is not there yet; answers whether it was made. Months are never overlapping, so two processes may ask at once.
CREATE FUNCTION make_body_month(at timestamptz) RETURNS boolean LANGUAGE plpgsql AS $$
DECLARE
  begins timestamp := date_trunc('month', at AT TIME ZONE 'UTC');
  name text := 'body_chunk_' || to_char(begins, 'YYYY_MM');
BEGIN
  IF to_regclass(format('%I', name)) IS NOT NULL THEN RETURN false; END IF;
  PERFORM pg_advisory_xact_lock(hashtext('body_chunk'));
  IF to_regclass(format('%I', name)) IS NOT NULL THEN RETURN false; END IF;
  EXECUTE format('CREATE TABLE %I PARTITION OF body_chunk FOR VALUES FROM (%L) TO (%L)', name, to_char(begins, 'YYYY-MM-DD') || ' 00:00:00+00', to_char(begins + interval '1 month', 'YYYY-MM-DD') || ' 00:00:00+00');
  RETURN true;
END $$;

-- Takes a plant's readings of a month away: the whole partition where no other plant has any in it. Answers whether there were any.
CREATE FUNCTION drop_body_month(plant integer, month timestamptz) RETURNS boolean LANGUAGE plpgsql AS $$
DECLARE
  name text := 'body_chunk_' || to_char(month AT TIME ZONE 'UTC', 'YYYY_MM');
  lowest integer;
  highest integer;
BEGIN
  IF to_regclass(format('%I', name)) IS NULL THEN RETURN false; END IF;
  PERFORM pg_advisory_xact_lock(hashtext('body_chunk'));
  EXECUTE format('SELECT min(plant_id), max(plant_id) FROM %I', name) INTO lowest, highest;
  IF lowest IS NULL OR (lowest = plant AND highest = plant) THEN
    EXECUTE format('DROP TABLE %I', name);
    RETURN lowest IS NOT NULL;
  END IF;
  IF plant < lowest OR plant > highest THEN RETURN false; END IF;
  EXECUTE format('DELETE FROM %I WHERE plant_id = $1', name) USING plant;
  RETURN FOUND;
END $$;
