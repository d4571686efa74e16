-- AlterTable
ALTER TABLE "webhook" ADD COLUMN     "days" SMALLINT[] DEFAULT ARRAY[1, 2, 3, 4, 5, 6, 7]::SMALLINT[],
ADD COLUMN     "quiet_from" INTEGER,
ADD COLUMN     "quiet_until" INTEGER,
ADD COLUMN     "shift_from" INTEGER,
ADD COLUMN     "shift_until" INTEGER,
ADD COLUMN     "shifts" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- AlterTable
ALTER TABLE "webhook_delivery" ADD COLUMN     "withheld" TEXT;

-- AlterTable
ALTER TABLE "notice_choice" ADD COLUMN     "shifts" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- CreateIndex
CREATE INDEX "webhook_delivery_plant_id_webhook_id_state_idx" ON "webhook_delivery"("plant_id", "webhook_id", "state");

-- What the schema language does not say. Webhooks and choices from before stay as they were: at any hour of every day, no shifts named.
ALTER TABLE "webhook" ALTER COLUMN "shifts" SET NOT NULL, ALTER COLUMN "days" SET NOT NULL;
ALTER TABLE "notice_choice" ALTER COLUMN "shifts" SET NOT NULL;
ALTER TABLE "webhook" ADD CONSTRAINT "webhook_minutes" CHECK (
  ("shift_from" IS NULL) = ("shift_until" IS NULL) AND ("quiet_from" IS NULL) = ("quiet_until" IS NULL)
  AND coalesce("shift_from", 0) BETWEEN 0 AND 1439 AND coalesce("shift_until", 0) BETWEEN 0 AND 1439
  AND coalesce("quiet_from", 0) BETWEEN 0 AND 1439 AND coalesce("quiet_until", 0) BETWEEN 0 AND 1439);
ALTER TABLE "webhook" ADD CONSTRAINT "webhook_days_of_the_week" CHECK (cardinality("days") BETWEEN 1 AND 7 AND "days" <@ ARRAY[1, 2, 3, 4, 5, 6, 7]::smallint[]);
ALTER TABLE "webhook" ADD CONSTRAINT "webhook_hours_or_shifts" CHECK ("shift_from" IS NULL OR cardinality("shifts") = 0);
ALTER TABLE "notice_choice" ADD CONSTRAINT "notice_choice_hours_or_shifts" CHECK ("shift_from" IS NULL OR cardinality("shifts") = 0);
ALTER TABLE "webhook_delivery" DROP CONSTRAINT "webhook_delivery_state_known";
ALTER TABLE "webhook_delivery" ADD CONSTRAINT "webhook_delivery_state_known" CHECK ("state" IN ('waiting', 'delivered', 'failed', 'quiet', 'not-sent'));
ALTER TABLE "webhook_delivery" ADD CONSTRAINT "webhook_delivery_withheld_known" CHECK ("withheld" IN ('quiet', 'off-hours', 'off-day'));
