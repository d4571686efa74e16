-- CreateTable
CREATE TABLE "kiosk_token" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "token_hash" TEXT NOT NULL,
    "made_by" INTEGER NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "kiosk_token_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "webhook" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "url" TEXT NOT NULL,
    "secret" TEXT NOT NULL,
    "kinds" TEXT[],
    "allow_internal" BOOLEAN NOT NULL DEFAULT false,
    "active" BOOLEAN NOT NULL DEFAULT true,
    "made_by" INTEGER NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "removed_at" TIMESTAMPTZ(3),

    CONSTRAINT "webhook_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "webhook_delivery" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "webhook_id" INTEGER NOT NULL,
    "event_key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "last_status" INTEGER,
    "last_answer" TEXT,
    "last_error" TEXT,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "attempted_at" TIMESTAMPTZ(3),
    "delivered_at" TIMESTAMPTZ(3),

    CONSTRAINT "webhook_delivery_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "notice_choice" (
    "plant_id" INTEGER NOT NULL,
    "user_id" INTEGER NOT NULL,
    "address" TEXT NOT NULL,
    "signals" BOOLEAN NOT NULL DEFAULT false,
    "overdue" BOOLEAN NOT NULL DEFAULT false,
    "shift_from" INTEGER,
    "shift_until" INTEGER,
    "quiet_from" INTEGER,
    "quiet_until" INTEGER,
    "digest_minutes" INTEGER,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "notice_choice_pkey" PRIMARY KEY ("plant_id","user_id")
);

-- CreateTable
CREATE TABLE "notice" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "user_id" INTEGER NOT NULL,
    "event_key" TEXT NOT NULL,
    "topic" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "path" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "mail_id" INTEGER,

    CONSTRAINT "notice_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "mail" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "user_id" INTEGER NOT NULL,
    "address" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "error" TEXT,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "sent_at" TIMESTAMPTZ(3),

    CONSTRAINT "mail_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "overdue_told" (
    "plant_id" INTEGER NOT NULL,
    "plan_id" INTEGER NOT NULL,
    "since" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "overdue_told_pkey" PRIMARY KEY ("plant_id","plan_id","since")
);

-- CreateTable
CREATE TABLE "calendar_address" (
    "plant_id" INTEGER NOT NULL,
    "user_id" INTEGER NOT NULL,
    "token_hash" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "calendar_address_pkey" PRIMARY KEY ("plant_id","user_id")
);

-- CreateTable
CREATE TABLE "news" (
    "plant_id" INTEGER NOT NULL,
    "id" BIGSERIAL NOT NULL,
    "xid" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT clock_timestamp(),
    "kind" TEXT NOT NULL,
    "subject_id" INTEGER NOT NULL,

    CONSTRAINT "news_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "kiosk_token_token_hash_idx" ON "kiosk_token"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "webhook_delivery_plant_id_webhook_id_event_key_key" ON "webhook_delivery"("plant_id", "webhook_id", "event_key");

-- CreateIndex
CREATE INDEX "notice_plant_id_user_id_mail_id_idx" ON "notice"("plant_id", "user_id", "mail_id");

-- CreateIndex
CREATE UNIQUE INDEX "notice_plant_id_user_id_event_key_key" ON "notice"("plant_id", "user_id", "event_key");

-- CreateIndex
CREATE INDEX "mail_plant_id_user_id_id_idx" ON "mail"("plant_id", "user_id", "id");

-- CreateIndex
CREATE INDEX "calendar_address_token_hash_idx" ON "calendar_address"("token_hash");

-- CreateIndex
CREATE INDEX "news_xid_idx" ON "news"("xid");

-- AddForeignKey
ALTER TABLE "webhook_delivery" ADD CONSTRAINT "webhook_delivery_plant_id_webhook_id_fkey" FOREIGN KEY ("plant_id", "webhook_id") REFERENCES "webhook"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- People are tied to their table here: each schema file stays its feature's own.
ALTER TABLE "kiosk_token" ADD CONSTRAINT "kiosk_token_made_by_fkey" FOREIGN KEY ("plant_id", "made_by") REFERENCES "user"("plant_id", "id");
ALTER TABLE "webhook" ADD CONSTRAINT "webhook_made_by_fkey" FOREIGN KEY ("plant_id", "made_by") REFERENCES "user"("plant_id", "id");
ALTER TABLE "notice_choice" ADD CONSTRAINT "notice_choice_user_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id");
ALTER TABLE "notice" ADD CONSTRAINT "notice_user_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id");
ALTER TABLE "mail" ADD CONSTRAINT "mail_user_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id");
ALTER TABLE "notice" ADD CONSTRAINT "notice_mail_fkey" FOREIGN KEY ("plant_id", "mail_id") REFERENCES "mail"("plant_id", "id");
ALTER TABLE "calendar_address" ADD CONSTRAINT "calendar_address_user_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id");
ALTER TABLE "overdue_told" ADD CONSTRAINT "overdue_told_plan_fkey" FOREIGN KEY ("plant_id", "plan_id") REFERENCES "check_plan"("plant_id", "id");
ALTER TABLE "webhook_delivery" ADD CONSTRAINT "webhook_delivery_state_known" CHECK ("state" IN ('waiting', 'delivered', 'failed'));
ALTER TABLE "mail" ADD CONSTRAINT "mail_state_known" CHECK ("state" IN ('waiting', 'sent', 'failed', 'dropped'));
ALTER TABLE "notice_choice" ADD CONSTRAINT "notice_choice_minutes" CHECK (
  ("shift_from" IS NULL) = ("shift_until" IS NULL) AND ("quiet_from" IS NULL) = ("quiet_until" IS NULL)
  AND coalesce("shift_from", 0) BETWEEN 0 AND 1439 AND coalesce("shift_until", 0) BETWEEN 0 AND 1439
  AND coalesce("quiet_from", 0) BETWEEN 0 AND 1439 AND coalesce("quiet_until", 0) BETWEEN 0 AND 1439 AND coalesce("digest_minutes", 60) BETWEEN 15 AND 1440);

-- A batch is one notice. It carries nothing: every process asks what it has not told yet.
CREATE FUNCTION tell_news() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('news', '');
  RETURN NULL;
END
$$;
CREATE TRIGGER "news_wakes_every_process" AFTER INSERT ON "news" FOR EACH STATEMENT EXECUTE FUNCTION tell_news();
